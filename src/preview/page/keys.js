// Keys, and the page that lists them.

import { find, kept, make, now } from "/page/now.js";
import { pan, whole, zoom } from "/page/stage.js";
import { KINDS, toggle as toggleLine } from "/page/lines.js";
import { step } from "/page/findings.js";
import { setPlates, toggleOver, togglePlate, walk } from "/page/ink.js";
import { toggle as toggleCompare } from "/page/compare.js";
import { measure, trueSize } from "/page/size.js";

const MOVES = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const PAN = 80; // pixels that a key moves the sheet
const help = find("help-dialog");
const letters = find("letters");

const ACTS = [
  ["i", "Read the inks in the middle of the sheet; then arrow keys move the point", () => (find("stage").focus(), walk(0, 0))],
  ["w", "Show the whole", whole],
  ["q", "True size", trueSize],
  ["+", "Larger", () => zoom(1.5)],
  ["-", "Smaller", () => zoom(1 / 1.5)],
  [".", "Next finding", () => step(1)],
  [",", "Finding before", () => step(-1)],
  ["0", "All plates", () => setPlates(null)],
  ["x", "Mark where ink is over the limit", toggleOver],
  ["v", "Compare with the last build, or end the comparison", toggleCompare],
  ["c", "All titles", () => now.state.titles.length > 1 && (location.hash = "#wall")],
  ...KINDS.map(([name, key, word]) => [key, `${word}: on or off`, () => toggleLine(name)]),
];

const row = (keys, words) => make("div", {}, make("dt", {}, ...keys.map((key) => make("kbd", {}, key))), make("dd", {}, words));
find("key-list").append(
  row(["?"], "This list"),
  row(["←", "→", "↑", "↓"], "On the sheet: move the point whose inks are read"),
  row(["Shift", "←"], "On the sheet: move the sheet"),
  ...ACTS.slice(0, 7).map(([key, words]) => row([key], words)),
  row(["1", "…", "9"], "One plate on or off"),
  ...ACTS.slice(7).map(([key, words]) => row([key], words)),
);

function openHelp() {
  letters.checked = kept.get("letters", true);
  help.showModal();
}
letters.addEventListener("change", () => kept.set("letters", letters.checked));
find("help").addEventListener("click", openHelp);
find("card-again").addEventListener("click", () => {
  help.close();
  measure();
});

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || document.querySelector("dialog[open]")) return;
  const typing = event.target.matches("input:not([type=checkbox]):not([type=radio]), select, textarea");
  if (typing) return;
  const move = MOVES[event.key];
  if (move && event.target.closest("#stage")) {
    event.preventDefault();
    if (event.shiftKey) pan(move[0] * PAN, move[1] * PAN);
    else walk(...move);
    return;
  }
  if (!kept.get("letters", true)) return;
  if (event.key === "?") return openHelp();
  if (find("cover").hidden || !now.cover) return;
  const key = event.key === "=" ? "+" : event.key.toLowerCase();
  const act = ACTS.find(([one]) => one === key);
  if (act) event.preventDefault(), act[2]();
  else if (/^[1-9]$/.test(key)) togglePlate(Number(key) - 1);
});
