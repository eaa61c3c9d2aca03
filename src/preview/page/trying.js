// Trying facts: pages, paper, trim or edition as they could be. Nothing is written.

import { base, find, make, now, on } from "/page/now.js";
import { order } from "/page/talk.js";
import { load } from "/page/live.js";

const WORDS = {
  pages: "Pages",
  "paper.grammage": "Paper weight, g/m²",
  "paper.bulk": "Paper bulk, cm³/g",
  "paper.caliper": "Paper thickness, mm",
  trim: "Trim: width and height, mm",
};
const PAUSE = 450; // milliseconds after the last key
const form = find("trying");
let made = "";
let waiting, turns = 0;

/** Fields as the file has them, renewed with its facts. */
function fields() {
  const written = now.written ?? now.cover;
  const facts = Object.entries(written.fields ?? {});
  const name = JSON.stringify([base(now.id), facts, written.editions]);
  if (name === made) return;
  made = name;
  const rows = facts.map(([fact, value]) => {
    const box = make("input", { id: `fact-${fact}`, name: fact, value, autocomplete: "off", "data-written": value });
    return make("div", { class: "field" }, make("label", { for: box.id }, WORDS[fact] ?? fact), box);
  });
  const editions = written.editions ?? [];
  if (editions.length) {
    const select = make("select", { id: "fact-edition", name: "edition", "data-written": "" }, make("option", { value: "" }, "as it stands"), ...editions.map((one) => make("option", {}, one)));
    rows.push(make("div", { class: "field" }, make("label", { for: select.id }, "Edition"), select));
  }
  form.replaceChildren(
    make("p", { class: "about" }, "See what another page count, paper or trim would do. Nothing is written."),
    ...rows,
    make("p", { class: "row" }, make("button", {}, "Try"), make("button", { type: "button", id: "as-written", onclick: back }, "As written")),
    make("p", { id: "trying-said", class: "said", role: "alert" }));
}

async function attempt() {
  clearTimeout(waiting);
  const boxes = [...form.querySelectorAll("[data-written]")];
  const facts = boxes.filter((box) => box.name !== "edition" && box.value.trim() !== box.dataset.written).map((box) => `${box.name}=${box.value.trim()}`);
  const edition = boxes.find((box) => box.name === "edition")?.value || null;
  if (!facts.length && !edition) return back();
  const from = now.id, turn = (turns += 1);
  try {
    const { id } = await order(`/try/${base(from)}`, { facts, edition });
    if (turn !== turns || now.id !== from) return;
    find("trying-said").textContent = "";
    now.id = id;
    await load();
    const words = [...facts.map((fact) => fact.replace("=", " ")), edition && `edition ${edition}`].filter(Boolean).join(", ");
    tried(words);
  } catch (refused) {
    find("trying-said").textContent = [refused.message, refused.help].filter(Boolean).join(" ");
  }
}

function tried(words) {
  const box = find("trial");
  box.hidden = !words;
  box.replaceChildren(...(words ? [make("strong", {}, `Tried: ${words}.`), " Nothing is written. ", make("button", { type: "button", class: "small", onclick: back }, "Back to the file")] : []));
}

export async function back() {
  turns += 1;
  clearTimeout(waiting);
  for (const box of form.querySelectorAll("[data-written]")) box.value = box.dataset.written;
  if (find("trying-said")) find("trying-said").textContent = "";
  tried("");
  if (!String(now.id).includes("~")) return;
  now.id = base(now.id);
  await load();
}

form.addEventListener("submit", (event) => {
  event.preventDefault();
  attempt();
});
form.addEventListener("input", () => {
  clearTimeout(waiting);
  waiting = setTimeout(attempt, PAUSE);
});
on("cover", fields);
on("opened", () => {
  made = "";
  tried("");
});
