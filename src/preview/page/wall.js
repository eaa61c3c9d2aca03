// The wall: titles as fronts and spines, each with its state; only what is seen is asked for.

import { find, make, now, on, some } from "/page/now.js";
import { order } from "/page/talk.js";
import { named, standing } from "/page/findings.js";

const HIGH = 260; // pixels of a cover on the wall
const STATES = [["all", "All"], ["clean", "No findings"], ["findings", "With findings"], ["failed", "Failed"], ["waiting", "Waiting"]];
const list = find("titles");
const word = find("word");
const tiles = new Map(); // number of a title → its element and pictures
let wanted = "all";

const seen = new Set();
let asking;
const watcher = new IntersectionObserver((entries) => {
  for (const { target, isIntersecting } of entries) {
    const id = Number(target.dataset.id);
    if (isIntersecting) seen.add(id);
    else seen.delete(id);
    if (isIntersecting) paint(id);
  }
  clearTimeout(asking);
  const open = [...seen].filter((id) => tiles.get(id)?.title.state === "waiting");
  if (open.length) asking = setTimeout(() => order("/wanted", { ids: open }).catch(() => {}), 80);
}, { rootMargin: "200px" });

function tile(title) {
  const face = (name) => make("img", { class: name, alt: "", hidden: true, onload: (event) => {
    event.target.hidden = false;
    blank.hidden = true;
  } });
  const state = make("span", { class: "state" });
  const [spine, front] = [face("spine"), face("front")];
  const blank = make("span", { class: "blank", "aria-hidden": "true" });
  const name = make("span", { class: "name" });
  const link = make("a", { href: `#${title.id}`, class: "title" }, make("span", { class: "faces" }, spine, front, blank), name, state);
  return { item: make("li", { "data-id": title.id }, link), spine, front, name, state, title };
}

/** Pictures of a title that is seen. */
function paint(id) {
  const one = tiles.get(id);
  for (const name of ["spine", "front"]) {
    const digest = one.title[name];
    const path = digest && `/${name}/${id}.png?name=${encodeURIComponent(digest)}&height=${Math.round(HIGH * Math.min(devicePixelRatio || 1, 2))}`;
    if (!path || one[name].getAttribute("src") === path) continue;
    one[name].src = path;
  }
}

function state(one) {
  one.name.textContent = named(one.title);
  one.state.className = `state ${one.title.state}`;
  one.state.textContent = standing(one.title);
}

function fill() {
  const { titles } = now.state;
  const ids = new Set(titles.map((title) => title.id));
  for (const [id, one] of tiles) {
    if (ids.has(id)) continue;
    watcher.unobserve(one.item);
    one.item.remove();
    tiles.delete(id);
    seen.delete(id);
  }
  for (const title of titles) {
    if (!tiles.has(title.id)) {
      const one = tile(title);
      tiles.set(title.id, one);
      watcher.observe(one.item);
    }
    const one = tiles.get(title.id);
    one.title = title;
    list.append(one.item);
    state(one);
    if (seen.has(title.id)) paint(title.id);
  }
  filter();
}

function filter() {
  const words = word.value.toLocaleLowerCase().split(/\s+/).filter(Boolean);
  let count = 0;
  for (const { item, title } of tiles.values()) {
    const text = `${title.title} ${title.name} ${title.edition ?? ""}`.toLocaleLowerCase();
    item.hidden = !(wanted === "all" || title.state === wanted) || !words.every((one) => text.includes(one));
    if (!item.hidden) count += 1;
  }
  const all = now.state.titles;
  for (const [name, label] of STATES) {
    const many = name === "all" ? all.length : all.filter((one) => one.state === name).length;
    find(`state-${name}`).textContent = `${label} ${many}`;
  }
  find("wall-count").textContent = some(count, "title") + (count < all.length ? ` of ${all.length}` : "");
}

find("wall-states").append(...STATES.map(([name]) => {
  const box = make("input", { type: "radio", name: "state", value: name, onchange: () => ((wanted = name), filter()) });
  box.checked = name === wanted;
  return make("label", {}, box, make("span", { id: `state-${name}` }));
}));
word.addEventListener("input", filter);
word.form.addEventListener("submit", (event) => event.preventDefault());

on("titles", fill);
on("built", (news) => {
  const one = tiles.get(news.id);
  if (!one) return;
  state(one);
  if (seen.has(news.id)) paint(news.id);
  filter();
});
