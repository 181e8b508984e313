// A new scene: eight questions, then the desk.

import { get, posted } from "./ask.js";

const one = (selector) => document.querySelector(selector);
const fail = (error) => (one("#fault").textContent = error.message);
const towns = one("#towns");
let soon = 0;

function row({ field, words, allowed, default: usual, choices }, kept) {
  const answer = document.createElement("div");
  answer.className = "answer";
  const label = Object.assign(document.createElement("label"), { htmlFor: field, textContent: words });
  const input = document.createElement(choices.length ? "select" : "input");
  Object.assign(input, { id: field, name: field });
  if (choices.length) input.append(...choices.map((choice) => new Option(choice, choice, false, choice === (kept || usual))));
  else Object.assign(input, { value: kept, placeholder: usual, spellcheck: false });
  answer.append(label, input);
  if (!choices.length) {
    const hint = Object.assign(document.createElement("p"), { id: `${field}-hint`, textContent: allowed });
    input.setAttribute("aria-describedby", hint.id);
    answer.append(hint);
  }
  if (field === "place") {
    input.setAttribute("list", "towns");
    input.addEventListener("input", () => {
      clearTimeout(soon);
      soon = setTimeout(() => offer(input.value), 120);
    });
  }
  if (field === "units") input.addEventListener("change", () => ask(input.value).catch(fail));
  return answer;
}

async function offer(text) {
  if (text.trim().length < 2) return;
  const found = await get("towns", { text }).catch(() => []);
  towns.replaceChildren(...found.map((words) => new Option(words)));
}

async function ask(units) {
  const kept = new FormData(one("#answers"));
  const held = document.activeElement?.id;
  const asked = await get("questions", { units });
  one("#questions").replaceChildren(...asked.map((question) => row(question, kept.get(question.field) ?? "")));
  if (held) document.getElementById(held)?.focus();
}

one("#answers").addEventListener("submit", async (event) => {
  event.preventDefault();
  one("#fault").textContent = "";
  one("#write").disabled = true;
  try {
    await posted("begin", Object.fromEntries(new FormData(one("#answers"))));
    location.reload();
  } catch (error) {
    one("#write").disabled = false;
    fail(error);
    const field = error.message.split(":")[0];
    document.getElementById(field)?.focus();
  }
});

await ask("feet").catch(fail);
document.body.dataset.ready = "";
