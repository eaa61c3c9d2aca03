// What is printed, as a list: the sheet in words, for those who do not see it, and a way to every element.

import { find, make, now, on, tell } from "/page/now.js";
import { flat, goTo } from "/page/stage.js";
import { about, readAt } from "/page/ink.js";

function go(one) {
  if (!flat()) {
    now.look = "sheet";
    tell("look");
  }
  goTo(one);
  readAt(one.x + one.width / 2, one.y + one.height / 2, true);
}

on("cover", () => {
  const { elements } = now.cover;
  find("elements").replaceChildren(
    ...elements.map((one) =>
      make("li", {},
        make("button", { type: "button", class: "pick", onclick: () => go(one) }, make("span", { class: "name" }, one.name), make("span", { class: "rule" }, one.panel)),
        make("span", { class: "about" }, about(one)),
        one.text && make("q", {}, one.text))),
  );
});
