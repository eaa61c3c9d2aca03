// Live: news of builds, the mistake that keeps the last good picture, and what changed outlined for a moment.

import { base, find, make, now, on, tell } from "/page/now.js";
import { camera, flat, toScreen } from "/page/stage.js";
import { ask, settled } from "/page/talk.js";
import { mistakes, named, standing } from "/page/findings.js";

const MOMENT = 1600; // milliseconds that a change stays outlined

let latest = 0;
export async function load() {
  const id = now.id;
  const turn = (latest += 1);
  const cover = settled(await ask(`/cover/${id}`));
  if (turn !== latest || id !== now.id) return;
  const old = now.cover;
  now.cover = cover;
  now.cover.id ??= id;
  mistake();
  if (old && String(old.id) === String(cover.id) && old.build !== cover.build) outline(old, cover);
  tell("cover");
  head();
}

function mistake() {
  mistakes("mistake", now.cover.sheet ? "The file cannot be read now. Below is the last good picture." : "This cover cannot be built yet.", now.cover.mistake?.findings);
}

function head() {
  const title = now.state.titles.find((one) => String(one.id) === base(now.id));
  find("title").textContent = named(title);
  document.title = `${named(title)} · jaconet preview`;
  const words = now.cover.mistake ? "cannot be read now" : standing(title);
  const box = find("state");
  if (box.textContent !== words) box.textContent = words;
  box.className = `state ${now.cover.mistake ? "failed" : title.state}`;
}

/** Elements that were drawn otherwise, moved, came or went. */
function outline(old, cover) {
  const named = (one) => `${one.panel} ${one.name}`;
  const look = (one) => [one.drawn, one.x, one.y, one.width, one.height].join();
  const before = new Map(old.elements.map((one) => [named(one), one]));
  const changed = [];
  for (const one of cover.elements) {
    const was = before.get(named(one));
    before.delete(named(one));
    if (!was || look(was) !== look(one)) changed.push(one);
  }
  changed.push(...before.values());
  flashes = changed.map((area) => ({ area, box: make("div", { class: "flash" }) }));
  find("flashes").replaceChildren(...flashes.map((one) => one.box));
  put();
  clearTimeout(fading);
  fading = setTimeout(() => {
    flashes = [];
    find("flashes").replaceChildren();
  }, MOMENT);
}
let flashes = [];
let fading;
function put() {
  for (const { area, box } of flashes) {
    const [x, y] = toScreen(area.x, area.y);
    box.hidden = !flat();
    box.style.transform = `translate(${x}px, ${y}px)`;
    box.style.width = `${area.width * camera.scale}px`;
    box.style.height = `${area.height * camera.scale}px`;
  }
}
on("moved", put);

export function listen() {
  const events = new EventSource("/events");
  events.addEventListener("build", (event) => {
    const news = JSON.parse(event.data);
    const title = now.state.titles.find((one) => one.id === news.id);
    if (title) Object.assign(title, news);
    if (now.id != null && String(news.id) === base(now.id)) load().catch(() => {});
    tell("built", news);
  });
  events.addEventListener("titles", renew);
  events.addEventListener("open", () => {
    find("away").hidden = true;
    renew();
  });
  events.addEventListener("error", () => {
    find("away").hidden = false;
    find("away").textContent = events.readyState === 2
      ? "This page is of an earlier run: open the address in the terminal."
      : "jaconet does not answer; the page asks again by itself.";
  });
}

const renew = () => refresh().catch(() => {});

async function refresh() {
  now.state = await ask("/state");
  mistakes("list-mistake", "The list of covers has a mistake.", now.state.mistakes);
  tell("titles");
  if (now.id == null) return;
  if (now.state.titles.some((one) => String(one.id) === base(now.id))) await load().catch(() => {});
  else location.hash = "#wall";
}
