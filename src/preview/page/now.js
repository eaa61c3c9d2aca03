// What the page shows now, known to all parts; and the news that parts tell each other.

export const now = {
  state: null, // what /state says: titles, editor
  id: null, // the cover that is open, or a variant of it: "0", "0~t1"
  cover: null, // what /cover/ID says
  look: "sheet", // sheet | panel:NAME | view:NAME | proof:PAGE
  plates: null, // numbers of the plates shown; null for all
  over: false, // whether places over the ink limit are marked
  chosen: null, // number of the finding that is chosen
  earlier: null, // the cover to compare with
};

const news = new EventTarget();
export const on = (names, act) => names.split(" ").forEach((name) => news.addEventListener(name, (e) => act(e.detail)));
export const tell = (name, detail) => news.dispatchEvent(new CustomEvent(name, { detail }));

export const base = (id) => String(id).split("~")[0];
export const find = (id) => document.getElementById(id);

/** An element with attributes, listeners (`onclick`), and children: elements or words. */
export function make(tag, attributes = {}, ...children) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on")) made.addEventListener(name.slice(2), value);
    else if (value === true) made.setAttribute(name, "");
    else if (value !== false && value != null) made.setAttribute(name, value);
  }
  made.append(...children.filter((child) => child != null && child !== false));
  return made;
}

export const short = (number, decimals = 1) => String(+Number(number).toFixed(decimals));
export const some = (count, word) => `${count} ${word}${count === 1 ? "" : "s"}`;

/** Remembered on this computer, where the browser allows it. */
export const kept = {
  get(name, otherwise) {
    try {
      return JSON.parse(localStorage.getItem(`jaconet.${name}`)) ?? otherwise;
    } catch {
      return otherwise;
    }
  },
  set(name, value) {
    try {
      localStorage.setItem(`jaconet.${name}`, JSON.stringify(value));
    } catch {}
  },
};
