// SPDX-License-Identifier: GPL-3.0-or-later
// Finds names as they are typed; without it the page is complete.
"use strict";
const folds = [...document.querySelectorAll(".found")].map((fold) => ({
  fold, name: fold.querySelector("summary").textContent.toLowerCase(),
}));
const label = document.createElement("label");
label.className = "find";
label.textContent = "Find a muscle, movement or exercise";
const field = document.createElement("input");
field.type = "search";
field.addEventListener("input", () => {
  const words = field.value.toLowerCase().split(/\s+/).filter(Boolean);
  for (const each of folds) each.fold.hidden = !words.every((word) => each.name.includes(word));
  for (const part of document.querySelectorAll("section"))
    part.hidden = !part.querySelector(".found:not([hidden])");
});
label.append(field);
document.querySelector("nav").after(label);
