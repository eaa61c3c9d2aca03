// Findings: pins at their places, and the list with the line, the reason and the way out.

import { base, find, make, now, on, some, tell } from "/page/now.js";
import { camera, flat, goTo, toScreen } from "/page/stage.js";
import { order } from "/page/talk.js";

const WORDS = { error: "Error", warning: "Warning", note: "Note" };
const NARROW = 22; // pixels: pins whose tips are closer stand one above the other
const pins = find("pins");
const list = find("findings");

/** `file:line` with a button that copies it, and one that opens it where the server has an editor. */
export function source(file, line) {
  if (!file) return null;
  const place = `${file}:${line}`;
  const copy = make("button", { type: "button", class: "small", "aria-label": `Copy ${place}` }, "Copy");
  copy.addEventListener("click", async () => {
    try {
      await navigator.clipboard.writeText(place);
      copy.textContent = "Copied";
    } catch {
      copy.textContent = "Not allowed";
    }
    setTimeout(() => (copy.textContent = "Copy"), 1500);
  });
  const open = now.state?.editor && make("button", { type: "button", class: "small", "aria-label": `Open ${place} in the editor` }, "Open");
  if (open) open.addEventListener("click", () => order("/open", { file, line }).catch((said) => (open.textContent = said.message)));
  return make("span", { class: "source" }, make("code", {}, place), copy, open);
}

/** One finding in words. */
export const told = (one) => [
  make("span", { class: "message" }, one.message),
  one.source && make("code", { class: "line" }, one.source.trim()),
  one.help && make("span", { class: "help" }, one.help),
  source(one.file, one.line),
];

/** The first mistakes, above the picture. */
export function mistakes(name, head, all = []) {
  const box = find(name);
  box.hidden = !all.length;
  box.replaceChildren(make("h2", {}, head), ...all.slice(0, 3).map((one) => make("div", { class: "told" }, ...told(one).filter(Boolean))),
    all.length > 3 ? `And ${all.length - 3} more.` : "");
}

/** What a try adds, and what it mends, beside the cover as it is written. */
function changes() {
  const before = now.written;
  const same = (one) => `${one.rule} ${one.file} ${one.line}`;
  if (!before || !String(now.id).includes("~")) return { added: new Set(), mended: [], same };
  const was = new Set(before.findings.map(same));
  const is = new Set(now.cover.findings.map(same));
  return { added: new Set([...is].filter((one) => !was.has(one))), mended: before.findings.filter((one) => !is.has(same(one))), same };
}

function fill() {
  const { findings } = now.cover;
  const { added, mended, same } = changes();
  find("findings-count").textContent = findings.length ? String(findings.length) : "none";
  list.replaceChildren(
    ...findings.map((one) =>
      make("li", { id: `finding-${one.number}`, class: `finding ${one.severity}` },
        make("button", { type: "button", class: "pick", "aria-current": now.chosen === one.number ? "true" : null, onclick: () => choose(one.number) },
          make("span", { class: `mark ${one.severity}` }, String(one.number)),
          make("span", { class: "kind" }, `${WORDS[one.severity] ?? one.severity}${added.has(same(one)) ? ", new with this try" : ""}`),
          make("span", { class: "rule" }, one.rule)),
        ...told(one)),
    ),
    ...mended.map((one) => make("li", { class: "finding mended" }, make("span", { class: "kind" }, "Gone with this try: "), make("s", {}, one.message))),
  );
  if (!findings.length && !mended.length) list.append(make("li", { class: "kind" }, "Nothing to mend."));
  if (now.cover.unlisted) list.append(make("li", { class: "kind" }, `And ${now.cover.unlisted} more of the same kinds.`));
  pins.replaceChildren(
    ...findings.filter((one) => one.place).map((one) =>
      make("button", { type: "button", class: `pin ${one.severity}`, "data-number": one.number, "aria-label": `${WORDS[one.severity]} ${one.number}: ${one.message}`, onclick: () => choose(one.number, true) },
        make("span", { class: `mark ${one.severity}` }, String(one.number)))),
  );
}

/** A pin's tip stands on the middle of the place's upper edge. */
function place() {
  frame();
  pins.hidden = !flat() || !now.cover?.sheet;
  if (pins.hidden) return;
  const taken = [];
  for (const pin of pins.querySelectorAll(".pin")) {
    const one = now.cover.findings.find((finding) => String(finding.number) === pin.dataset.number);
    const [x, y] = toScreen(one.place.x + one.place.width / 2, one.place.y);
    const floor = taken.filter(([tx, ty]) => Math.hypot(tx - x, ty - y) < NARROW).length;
    taken.push([x, y]);
    pin.style.height = `${32 + floor * 26}px`;
    pin.style.transform = `translate(${x}px, ${y}px) translate(-50%, -100%)`;
    pin.classList.toggle("chosen", now.chosen === one.number);
    pin.hidden = x < -20 || y < -20 || x > camera.width + 20 || y > camera.height + 60;
  }
}

/** The place of the chosen finding, outlined. */
const outline = make("div", { class: "outline", "aria-hidden": "true", hidden: true });
pins.before(outline);
function frame() {
  const one = now.cover?.findings.find((finding) => finding.number === now.chosen);
  outline.hidden = !one?.place || !flat();
  if (outline.hidden) return;
  const [x, y] = toScreen(one.place.x, one.place.y);
  outline.style.transform = `translate(${x}px, ${y}px)`;
  outline.style.width = `${one.place.width * camera.scale}px`;
  outline.style.height = `${one.place.height * camera.scale}px`;
}

export function choose(number, fromPin = false) {
  now.chosen = number;
  const one = now.cover.findings.find((finding) => finding.number === number);
  if (!one) return;
  find("findings-part").open = true;
  for (const item of list.querySelectorAll(".pick")) item.removeAttribute("aria-current");
  const item = find(`finding-${number}`);
  item.querySelector(".pick").setAttribute("aria-current", "true");
  if (fromPin) item.scrollIntoView({ block: "nearest" });
  if (!one.place) return tell("moved");
  if (!flat()) {
    now.look = "sheet";
    tell("look");
  }
  if (!fromPin) goTo(one.place);
  else tell("moved");
}

export function step(by) {
  const { findings } = now.cover;
  if (!findings.length) return;
  const at = findings.findIndex((one) => one.number === now.chosen);
  const { number } = findings[(Math.max(at, by > 0 ? -1 : 0) + by + findings.length) % findings.length];
  choose(number);
  find(`finding-${number}`).querySelector(".pick").focus();
}

export const named = ({ title, edition }) => (edition ? `${title} (${edition})` : title);

/** How a title stands, in words. */
export function standing({ state, errors, warnings, notes }) {
  if (state === "waiting") return "waiting";
  const parts = [errors && some(errors, "error"), warnings && some(warnings, "warning"), notes && some(notes, "note")].filter(Boolean);
  return `${state === "failed" ? "failed" : "built"}${parts.length ? `: ${parts.join(", ")}` : ", no findings"}`;
}

on("cover", () => {
  if (!now.cover.findings.some((one) => one.number === now.chosen)) now.chosen = null;
  if (!String(now.id).includes("~")) now.written = now.cover;
  if (now.written && base(now.id) !== base(now.written.id)) now.written = null;
  fill();
  place();
});
on("moved", place);
