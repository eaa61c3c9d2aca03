// Start: takes the key out of the address, asks what there is, and opens the wall or a cover.

import { base, find, make, now, on, tell } from "/page/now.js";
import { ask } from "/page/talk.js";
import { listen, load } from "/page/live.js";
import "/page/lines.js";
import "/page/elements.js";
import "/page/trying.js";
import "/page/wall.js";
import "/page/keys.js";

history.replaceState(null, "", location.pathname + location.hash);

/** The address says what is open: `#wall`, or the number of a title. */
async function open() {
  const many = new Set(now.state.titles.map((one) => one.name)).size > 1;
  const wanted = location.hash.slice(1) || (many ? "wall" : String(now.state.titles[0]?.id ?? 0));
  find("wall").hidden = wanted !== "wall";
  find("cover").hidden = wanted === "wall";
  find("look-at").hidden = wanted === "wall";
  find("to-wall").hidden = wanted === "wall" || now.state.titles.length < 2;
  if (wanted === "wall") {
    now.id = null;
    now.cover = null;
    document.title = "All titles · jaconet preview";
    find("title").textContent = "All titles";
    find("state").textContent = "";
    find("state").className = "state";
    return;
  }
  if (now.id != null && base(now.id) === wanted) return;
  Object.assign(now, { id: wanted, cover: null, look: "sheet", chosen: null, written: null, plates: null });
  tell("opened");
  find("title").textContent = "Opening …";
  try {
    await load();
  } catch (refused) {
    find("title").textContent = "This title cannot be shown";
    find("state").textContent = [refused.message, refused.help].filter(Boolean).join(" ");
  }
}

/** All that can be looked at. */
const look = find("look");
on("cover", () => {
  const { sheet, views = [], proof_pages: pages = 0 } = now.cover;
  const entry = (value, words) => make("option", { value }, words);
  const groups = [
    entry("sheet", "Sheet"),
    ...(sheet?.panels ?? []).map((panel) => entry(`panel:${panel.name}`, `Panel: ${panel.name}`)),
    ...views.map((view) => entry(`view:${view}`, `View: ${view}`)),
    ...Array.from({ length: pages }, (_, at) => entry(`proof:${at + 1}`, pages > 1 ? `Proof, page ${at + 1}` : "Proof")),
  ];
  if (!groups.some((one) => one.value === now.look)) now.look = "sheet";
  look.replaceChildren(...groups);
  look.value = now.look;
});
on("look", () => (look.value = now.look));
look.addEventListener("change", () => {
  now.look = look.value;
  tell("look");
});

find("to-wall").addEventListener("click", () => (location.hash = "#wall"));
addEventListener("hashchange", open);

try {
  now.state = await ask("/state");
  tell("titles");
  listen();
  await open();
} catch (refused) {
  find("away").hidden = false;
  find("away").textContent = refused.message;
}
