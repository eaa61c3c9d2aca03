// Compare: an earlier build on the left of a slider, the present one on its right.

import { base, find, now, on, tell } from "/page/now.js";
import { redraw } from "/page/stage.js";
import { ask, order, settled } from "/page/talk.js";

const said = find("compare-said");
const slider = find("slider");
let word = "";

async function start(revision) {
  said.textContent = "";
  try {
    const { id } = await order(`/earlier/${base(now.id)}`, { revision });
    word = revision ?? "last build";
    now.earlier = settled({ ...(await ask(`/cover/${id}`)), id });
    if (!now.earlier.sheet) throw new Error("There is no picture of it.");
    shown();
    slider.focus();
  } catch (refused) {
    end();
    said.textContent = [refused.message, refused.help].filter(Boolean).join(" ");
  }
}

export function end() {
  now.earlier = null;
  shown();
}

function shown() {
  find("compare-bar").hidden = !now.earlier;
  find("compare-end").hidden = !now.earlier;
  find("then-word").textContent = word;
  move();
  tell("earlier");
}

function move() {
  find("compare-bar").style.setProperty("--at", `${slider.value}%`);
  redraw();
}

export const toggle = () => (now.earlier ? end() : start(null));

slider.addEventListener("input", move);
find("compare-last").addEventListener("click", () => start(null));
find("compare-end").addEventListener("click", end);
find("compare").addEventListener("submit", (event) => {
  event.preventDefault();
  start(find("revision").value.trim() || "HEAD~1");
});

const divider = find("divider");
divider.addEventListener("pointerdown", (event) => divider.setPointerCapture(event.pointerId));
divider.addEventListener("pointermove", (event) => {
  if (!divider.hasPointerCapture(event.pointerId)) return;
  const box = find("stage").getBoundingClientRect();
  slider.value = (100 * (event.clientX - box.left)) / box.width;
  move();
});

on("opened", () => now.earlier && end());
on("built", async (news) => {
  if (!now.earlier || String(news.id) !== base(now.id)) return;
  const { id } = now.earlier;
  try {
    const cover = settled({ ...(await ask(`/cover/${id}`)), id });
    if (!now.earlier || now.earlier.id !== id) return;
    now.earlier = cover;
    tell("earlier");
  } catch {
    end();
  }
});
