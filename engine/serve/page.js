// SPDX-License-Identifier: GPL-3.0-or-later
// Comfort on top of pages that work without it: equipment is remembered in this browser, empty
// fields stay out of addresses, keys step through a lesson.
"use strict";

const KEPT = "whylift-equipment";

function kitOf(form) {
  const place = form.querySelector("#place");
  const also = form.querySelector("#also");
  const ticks = [...form.querySelectorAll("#have-ticks input:checked")].map((each) => each.value);
  return { place: place ? place.value : "", also: also ? also.value : "", ticks };
}

function showKit(form, kit) {
  const place = form.querySelector("#place");
  const also = form.querySelector("#also");
  if (place) place.value = kit.place || "";
  if (also) also.value = kit.also || "";
  for (const each of form.querySelectorAll("#have-ticks input"))
    each.checked = (kit.ticks || []).includes(each.value);
}

function readKept() {
  try {
    return JSON.parse(localStorage.getItem(KEPT));
  } catch {
    return null;
  }
}

function keep(kit) {
  try {
    if (kit) localStorage.setItem(KEPT, JSON.stringify(kit));
    else localStorage.removeItem(KEPT);
  } catch {
    // A browser that keeps nothing still answers.
  }
}

function countTicks(fold) {
  const count = fold.querySelectorAll("input:checked").length;
  fold.querySelector("summary span").textContent = count ? `(${count} ticked)` : "";
}

function rememberKit(form) {
  const folds = form.querySelectorAll(".ticks");
  const counts = () => folds.forEach(countTicks);
  const kept = readKept();
  // Beside an answer, the form shows what was asked, not what is remembered.
  const answered = document.body.classList.contains("answered");
  if (kept && !answered && !new URLSearchParams(location.search).has("have")) showKit(form, kept);
  counts();
  form.addEventListener("change", (event) => {
    counts();
    if (event.target.name === "have") keep(folds.length ? kitOf(form) : { ...readKept(), place: event.target.value });
  });
  const note = document.createElement("p");
  note.className = "kept";
  note.textContent = "Equipment is remembered in this browser alone. ";
  const forget = document.createElement("button");
  forget.type = "button";
  forget.textContent = "Forget it";
  forget.addEventListener("click", () => {
    keep(null);
    showKit(form, {});
    counts();
  });
  note.append(forget);
  form.append(note);
}

// Empty fields would only make addresses long.
function shorten(form) {
  const empty = () => [...form.querySelectorAll("input[type=text], select")].filter((each) => !each.value);
  form.addEventListener("submit", () => empty().forEach((each) => { each.disabled = true; }));
  addEventListener("pageshow", () =>
    form.querySelectorAll(":disabled").forEach((each) => { each.disabled = false; }));
}

function isTyping(target) {
  return target.closest("input, select, textarea") !== null;
}

function step(event) {
  if (event.altKey || event.ctrlKey || event.metaKey || isTyping(event.target)) return;
  const link = document.querySelector(`[data-key="${CSS.escape(event.key)}"]`);
  if (link) {
    event.preventDefault();
    link.click();
  } else if (event.key === " " && !event.target.closest("summary, a, button")) {
    const folds = [...document.querySelectorAll(".reveal")];
    const next = folds.find((each) => !each.open);
    if (!folds.length) return;
    event.preventDefault();
    if (next) next.open = true;
    else folds.forEach((each) => { each.open = false; });
  }
}

document.querySelectorAll("form").forEach(shorten);
document.querySelectorAll("form[data-kit]").forEach(rememberKit);
const question = document.querySelector(".answered .question");
if (question && matchMedia("(min-width: 60em)").matches) question.open = true;
if (document.body.classList.contains("class")) addEventListener("keydown", step);
