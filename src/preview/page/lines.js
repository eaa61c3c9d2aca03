// Lines over the sheet: where it is cut and folded, what stands where, and the numbers of `measure`.

import { find, kept, make, now, on, short } from "/page/now.js";
import { camera, flat, redraw, toScreen } from "/page/stage.js";

/** Each kind: its key, and whether it shows at first. */
export const KINDS = [
  ["trim", "t", "Trim", true],
  ["bleed", "b", "Bleed", false],
  ["safe", "s", "Safe area", false],
  ["folds", "f", "Folds", true],
  ["hinges", "h", "Hinges", false],
  ["panels", "n", "Panel names", false],
  ["frames", "e", "Frames of elements", false],
  ["levels", "l", "Levels", false],
  ["sizes", "d", "Dimensions", false],
];
const shown = new Set(kept.get("lines", KINDS.filter(([, , , first]) => first).map(([name]) => name)));
const svg = find("lines");
const boxes = new Map();

export function toggle(name) {
  if (!shown.delete(name)) shown.add(name);
  kept.set("lines", [...shown]);
  boxes.get(name).checked = shown.has(name);
  redraw();
}

for (const [name, key, word] of KINDS) {
  const box = make("input", { type: "checkbox", onchange: () => toggle(name) });
  box.checked = shown.has(name);
  boxes.set(name, box);
  const sample = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  sample.setAttribute("class", "sample");
  sample.setAttribute("aria-hidden", "true");
  sample.append(draw("path", { d: "M0 6h30", class: `line ${name}` }));
  find("line-choices").append(make("label", {}, box, make("span", { class: "choice" }, word), sample, make("kbd", { "aria-hidden": "true" }, key)));
}

function draw(tag, attributes, words) {
  const made = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  if (words != null) made.textContent = words;
  return made;
}

/** A path, and a light one below: it is seen on any picture. */
function stroke(kind, path) {
  svg.append(draw("path", { d: path, class: `casing ${kind}` }), draw("path", { d: path, class: `line ${kind}` }));
}
const crisp = (at) => Math.round(at) + 0.5;
const box = (kind, area) => {
  const [l, t] = toScreen(area.x, area.y).map(crisp);
  const [r, f] = toScreen(area.x + area.width, area.y + area.height).map(crisp);
  stroke(kind, `M${l} ${t}H${r}V${f}H${l}Z`);
};
function words(kind, x, y, text, anchor = "middle", turn = 0) {
  for (const part of ["casing", "word"]) svg.append(draw("text", { x, y, class: `${part} ${kind}`, "text-anchor": anchor, transform: `rotate(${turn} ${x} ${y})` }, text));
}

/** A dimension line with its number. */
function size(x1, y1, x2, y2, length) {
  const across = y1 === y2;
  const end = across ? "m0 -4v8" : "m-4 0h8";
  stroke("sizes", `M${x1} ${y1}L${x2} ${y2}M${x1} ${y1}${end}M${x2} ${y2}${end}`);
  words("sizes", across ? (x1 + x2) / 2 : x1 - 6, across ? y1 - 6 : (y1 + y2) / 2, `${short(length, 2)} mm`, "middle", across ? 0 : -90);
}

function all() {
  svg.replaceChildren();
  const { cover } = now;
  if (!cover?.sheet || !flat()) return;
  svg.setAttribute("viewBox", `0 0 ${camera.width} ${camera.height}`);
  const { trim, bleed, panels, folds } = cover.sheet;
  const has = (name) => shown.has(name);
  const upright = (x, from, to, kind) => {
    const [at, top] = toScreen(x, from);
    stroke(kind, `M${crisp(at)} ${top}V${toScreen(x, to)[1]}`);
  };
  if (has("frames")) for (const one of cover.elements) box("frames", one);
  if (has("safe")) for (const one of cover.safe) box("safe", one);
  if (has("bleed")) box("bleed", bleed);
  if (has("trim")) box("trim", trim);
  for (const { x, hinge } of folds) if (has(hinge ? "hinges" : "folds")) upright(x, bleed.y, bleed.y + bleed.height, hinge ? "hinges" : "folds");
  if (has("levels")) {
    for (const level of cover.levels) {
      const panel = panels.find((one) => one.name === level.panel) ?? trim;
      const [l, y] = toScreen(panel.x, level.y);
      stroke("levels", `M${l} ${crisp(y)}H${toScreen(panel.x + panel.width, level.y)[0]}`);
      words("levels", l + 4, y - 4, level.name, "start");
    }
  }
  const [, head] = toScreen(0, bleed.y);
  const tall = has("sizes") ? 22 : 0;
  if (has("panels")) {
    for (const panel of panels) {
      const [middle] = toScreen(panel.x + panel.width / 2, 0);
      words("panels", middle, Math.max(14, head - 10 - tall), panel.name);
    }
  }
  if (has("sizes")) {
    const across = (area, y) => size(crisp(toScreen(area.x, 0)[0]), y, crisp(toScreen(area.x + area.width, 0)[0]), y, area.width);
    const high = crisp(Math.max(28, head - 8));
    for (const panel of panels) across(panel, high);
    across(trim, crisp(Math.min(camera.height - 12, toScreen(0, bleed.y + bleed.height)[1] + 22)));
    const left = crisp(Math.max(24, toScreen(bleed.x, 0)[0] - 10));
    size(left, crisp(toScreen(0, trim.y)[1]), left, crisp(toScreen(0, trim.y + trim.height)[1]), trim.height);
  }
}

on("cover", () => {
  const rows = now.cover.measures.map((one) =>
    make("tr", {}, make("th", { scope: "row" }, one.name), make("td", { class: "number" }, `${short(one.value, 2)} ${one.unit ?? ""}`), make("td", {}, one.sum ?? "")),
  );
  find("measures").replaceChildren(make("tbody", {}, ...rows));
});
on("moved", all);
