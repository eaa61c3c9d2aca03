// True size: how many pixels of this screen are a millimetre, measured once with a bank card.

import { find, kept, now } from "/page/now.js";
import { camera, flat, measuredBy, redraw, zoom } from "/page/stage.js";

const CARD = [85.6, 53.98]; // millimetres: ISO/IEC 7810, format ID-1
const dialog = find("card-dialog");
const slider = find("card-width");
const card = find("card");

/** Pixels of the page a millimetre; kept as pixels of the screen, which the browser's own zoom leaves alone. */
const known = () => kept.get("pixels-a-millimetre", null);
const scale = () => (known() ?? (96 / 25.4) * devicePixelRatio) / devicePixelRatio;
measuredBy(scale);

function fit() {
  card.style.width = `${slider.value}px`;
  card.style.height = `${(slider.value * CARD[1]) / CARD[0]}px`;
}

export function measure() {
  slider.value = scale() * CARD[0];
  fit();
  dialog.returnValue = "";
  dialog.showModal();
  slider.focus();
}

export function trueSize() {
  if (!flat()) return;
  if (known() == null) return measure();
  zoom(scale() / camera.scale);
}

slider.addEventListener("input", fit);
dialog.addEventListener("close", () => {
  if (dialog.returnValue !== "keep") return;
  kept.set("pixels-a-millimetre", (slider.value / CARD[0]) * devicePixelRatio);
  if (now.cover) zoom(scale() / camera.scale);
  redraw();
});
find("true-size").addEventListener("click", trueSize);
