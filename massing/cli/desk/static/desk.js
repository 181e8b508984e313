// The desk: what stands, what is changed, what the light does. No rule and no size is made here.

import { createViewer } from "viewer";
import { Board } from "./board.js";
import { doing, drawable, forget, get, house, posted } from "./ask.js";
import { Better } from "./better.js";
import { Fields } from "./fields.js";
import { Lines } from "./lines.js";

const one = (selector) => document.querySelector(selector);
const all = (selector) => [...document.querySelectorAll(selector)];
const chosen = (name) => one(`input[name="${name}"]:checked`).value;
const made = (kind, words = "", more = {}) => Object.assign(document.createElement(kind), { textContent: words, ...more });
const MONTHS = "January February March April May June July August September October November December".split(" ");

let state = null;
let viewer = null;
let lines = null;
let views = {};
const houses = new Map(); // parts by design, as the viewer has them
const sheets = new Map();
let suns = { day: "", suns: [] };

// --- saying ------------------------------------------------------------------------------

let quietSoon = 0;
function say(words) {
  one("#said").textContent = words;
  clearTimeout(quietSoon);
  quietSoon = setTimeout(() => (one("#said").textContent = ""), 6000);
}
const fail = (error) => (one("#fault").textContent = error.message);

// --- the light ---------------------------------------------------------------------------

const hour = one("#hour");
const day = one("#day");

function date() {
  const when = new Date(Date.UTC(state.year, 0, 1 + +day.value));
  return when.toISOString().slice(0, 10);
}
const clock = () => `${String(Math.floor(hour.value / 60)).padStart(2, "0")}:${String(hour.value % 60).padStart(2, "0")}`;

async function light() {
  const [, month, number] = date().split("-");
  one("#day-words").textContent = `${+number} ${MONTHS[month - 1]}`;
  one("#hour-words").textContent = clock();
  day.setAttribute("aria-valuetext", one("#day-words").textContent);
  hour.setAttribute("aria-valuetext", clock());
  if (suns.day !== date()) suns = await get("suns", { day: date() });
  const sun = suns.suns[Math.round(hour.value / 10)] ?? suns.suns.at(-1);
  viewer.setSun(sun.altitude_deg > 0 ? sun.to_sun : null);
  measureSoon();
}

let measuring = 0;
function measureSoon() {
  clearTimeout(measuring);
  measuring = setTimeout(() => measure().catch(fail), 60);
}

// --- what is shown -----------------------------------------------------------------------

function shownDesigns() {
  const names = state.designs.filter((d) => d.stands).map((d) => d.name);
  const count = +chosen("panes");
  if (count === 1 || names.length === 1) return [state.shown];
  if (count === 2) return [names[0], state.shown === names[0] ? names[1] : state.shown];
  const four = names.slice(0, 4);
  return four.includes(state.shown) ? four : [...four.slice(0, 3), state.shown];
}

async function bring(name) {
  const now = await house(name);
  const before = houses.get(name) ?? new Map();
  const same = (a, b) => a && a.mesh === b.mesh && a.places === b.places && a.role === b.role;
  viewer.house(name).update({
    removed: [...before.keys()].filter((key) => !now.has(key)),
    parts: [...now.values()].filter((part) => !same(before.get(part.key), part)).map(drawable),
  });
  houses.set(name, now);
}

async function build() {
  const names = shownDesigns();
  await Promise.all(names.map(bring));
  for (const name of houses.keys()) {
    if (!names.includes(name)) {
      viewer.forget(name);
      houses.delete(name);
    }
  }
  forget(houses.values());
  viewer.show(names);
}

/** The views, framed anew once the house has outgrown them. */
async function frame() {
  const before = views.elevation?.across;
  views = await get("views");
  for (const [name, view] of Object.entries(views)) viewer.addView(name, view);
  const grown = Math.abs(views.elevation.across / before - 1) > 0.08;
  if (grown && chosen("view") !== "free" && !viewer.turned()) look(chosen("view"));
}

async function measure() {
  const names = shownDesigns();
  const asked = { day: date(), clock: clock() };
  await Promise.all(names.map(async (name) => sheets.set(name, await get("sheet", { name, ...asked }))));
  const own = sheets.get(state.shown);
  if (!own) return;
  one("#sun-words").textContent = own.sun;
  const first = own.figures.filter((figure) => figure.first);
  one("#figures").replaceChildren(
    ...first.map(({ name, written, note }) => {
      const row = made("div", "", { title: note });
      row.append(made("dt", name), made("dd", written));
      return row;
    }),
  );
  one("#changes").replaceChildren(...own.changes.map(({ text, source }) => cited("li", text, source)));
  one("#changes").previousElementSibling.hidden = !own.changes.length;
  one("#findings").replaceChildren(
    ...own.findings.map(({ severity, text, source }) => {
      const item = cited("li", ` ${text} `, source);
      item.className = severity;
      item.prepend(made("b", severity));
      return item;
    }),
  );
  one("#caution").textContent = own.caution;
  captions(names);
  showLines();
}

function cited(kind, text, source) {
  const item = made(kind, `${text} `);
  if (source) item.append(made("cite", source));
  return item;
}

function captions(names) {
  const items = names.map((name, i) => {
    const pane = viewer.pane(i);
    if (!pane) return null; // nothing is seen while the board lies over it
    const [x, y, width] = pane;
    const item = made("li", `${state.designs.find((d) => d.name === name)?.letter ?? ""}  ${name}`);
    Object.assign(item.style, { left: `${x}px`, top: `${y}px`, width: `${width}px` });
    const said = sheets.get(name)?.figures.filter((figure) => figure.first);
    if (said && names.length > 1) item.append(made("small", said.map((figure) => `${figure.name} ${figure.written}`).join("  ·  ")));
    return item;
  });
  one("#panes").replaceChildren(...items.filter(Boolean));
}

function showLines() {
  const own = sheets.get(state.shown);
  const pane = shownDesigns().indexOf(state.shown);
  const wanted = one("#lines").checked && chosen("view") === "elevation" && pane >= 0;
  lines.show(own?.handles ?? [], own?.handle_y_m ?? 0, pane, wanted);
}

// --- changes -----------------------------------------------------------------------------

async function take(next, rebuild = true) {
  const before = state;
  state = next;
  one("#title").textContent = state.title;
  document.title = `${state.title}: desk`;
  one("#file").replaceChildren(`${state.file}  `, made("b", words()));
  one("#undo").disabled = !state.can_undo;
  one("#redo").disabled = !state.can_redo;
  const elsewhere = state.disk === "changed"; // then one of the two is chosen by name
  one("#save").disabled = elsewhere || (!state.edited && state.disk !== "gone");
  for (const id of ["#take-disk", "#write-over"]) one(id).hidden = !elsewhere;
  one("#faded").hidden = !state.drawing;
  day.max = state.days - 1;
  if (before && before.drawing !== state.drawing) await redrawn();
  one("#fault").textContent = state.fault ? `${state.fault}. The last house that could be built stands.` : "";
  list();
  if (!viewer || !rebuild) return;
  if (before && before.version === state.version) return;
  await build();
  if (!before || before.shown !== state.shown || before.version !== state.version) {
    await Promise.all([measure(), fields.fill(state.shown, state.fault_field)]);
    clearTimeout(framing);
    framing = setTimeout(() => frame().catch(fail), 500);
  }
}
let framing = 0;

function words() {
  if (state.disk === "changed") return "changed on disk by another hand";
  if (state.disk === "gone") return "the file is gone from disk; saving writes it again";
  if (state.taken_up && state.edited) return "changes of last time, not saved, taken up again";
  return state.edited ? "not saved; kept beside the file" : "saved";
}

/** Carry a change out, one after the other. */
let line = Promise.resolve();
function change(what, given = {}) {
  line = line.then(async () => {
    try {
      await take(await doing(what, given));
    } catch (error) {
      fail(error);
    }
  });
  return line;
}

const fields = new Fields(one("#groups"), one("#search"), (what, given) => change(what, { ...given, name: state.shown }));

function list() {
  const held = document.activeElement?.name === "design";
  one("#designs").replaceChildren(
    ...state.designs.map(({ name, letter, stands }) => {
      const item = made("li", "", { className: stands ? "" : "fallen" });
      const label = document.createElement("label");
      const radio = Object.assign(document.createElement("input"), { type: "radio", name: "design", value: name, checked: name === state.shown });
      radio.addEventListener("change", () => change("show", { name }));
      label.append(radio, made("b", letter), made("span", name));
      item.append(label);
      return item;
    }),
  );
  if (held) one('input[name="design"]:checked')?.focus();
  const at = state.designs.findIndex((d) => d.name === state.shown);
  one("#delete").disabled = at === 0;
  one("#up").disabled = at < 2;
  one("#down").disabled = at === 0 || at === state.designs.length - 1;
}

one("#undo").addEventListener("click", () => change("undo"));
one("#redo").addEventListener("click", () => change("redo"));
one("#save").addEventListener("click", async () => {
  await change("save");
  if (!state.edited) say("Saved. Comments and order are as they were.");
});
one("#take-disk").addEventListener("click", async () => {
  await change("take disk", { lose_edits: true });
  say("What is on disk is in hand now; what was in hand is one undo away.");
});
one("#write-over").addEventListener("click", async () => {
  await change("save", { over: true });
  if (!state.edited) say("Written over what was on disk.");
});
one("#delete").addEventListener("click", () => change("delete", { name: state.shown }));
for (const [id, by] of [["#up", -1], ["#down", 1]]) {
  one(id).addEventListener("click", () => {
    const names = state.designs.slice(1).map((d) => d.name);
    const at = names.indexOf(state.shown);
    [names[at], names[at + by]] = [names[at + by], names[at]];
    change("order", { names });
  });
}
let naming = null;
function name(what, text) {
  naming = what;
  one("#naming").hidden = false;
  one("#naming-text").value = text;
  one("#naming-text").select();
  one("#naming-text").focus();
}
one("#add").addEventListener("click", () => name("add", `${state.shown}, changed`));
one("#rename").addEventListener("click", () => name("rename", state.shown));
one("#naming-off").addEventListener("click", () => (one("#naming").hidden = true));
one("#naming").addEventListener("submit", async (event) => {
  event.preventDefault();
  const text = one("#naming-text").value.trim();
  if (!text) return;
  one("#naming").hidden = true;
  await (naming === "add" ? change("add", { name: text, like: state.shown }) : change("rename", { name: state.shown, new: text }));
});
addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey)) return;
  const typing = event.target.matches?.("input:not([type=radio]):not([type=range]):not([type=checkbox])");
  const key = event.key.toLowerCase();
  if (key === "s") one("#save").click();
  else if (key === "z" && !typing) change(event.shiftKey ? "redo" : "undo");
  else return;
  event.preventDefault();
});

// --- light, looks, hands -----------------------------------------------------------------

for (const slider of [hour, day]) slider.addEventListener("input", () => light().catch(fail));
for (const button of all("[data-minute]")) {
  button.addEventListener("click", () => {
    day.value = state.season_days[button.dataset.season];
    hour.value = button.dataset.minute;
    light().catch(fail);
  });
}
let playing = 0;
one("#play").addEventListener("click", () => {
  const button = one("#play");
  if (playing) {
    clearInterval(playing);
    playing = 0;
    button.textContent = "Play the day";
    return;
  }
  button.textContent = "Hold";
  const up = suns.suns.map((sun, i) => [sun.altitude_deg, i]).filter(([altitude]) => altitude > 0).map(([, i]) => 10 * i);
  if (!up.length) return;
  if (+hour.value >= up.at(-1) || +hour.value < up[0]) hour.value = up[0];
  playing = setInterval(() => {
    hour.value = +hour.value + 10 > up.at(-1) ? up[0] : +hour.value + 10;
    light().catch(fail);
  }, 160);
});
one("#keep-time").addEventListener("click", async () => {
  await change("add time", { time: `${date()} ${clock()}` });
  say(`${date()} ${clock()} is one of the scene's times now.`);
});
/** The free view stays as the hand left it; it begins where the street is seen from. */
let free = null;
function look(view) {
  if (view === "free") viewer.addView("free", (free ??= { ...views.street, shift: undefined, hides: [] }));
  viewer.setView(view);
  showLines();
}
one("#choices").addEventListener("change", async ({ target }) => {
  if (target.name === "view") look(target.value);
  if (target.name === "look") viewer.setLook(target.value);
  if (target.id === "figure") viewer.setFigure(target.checked);
  if (target.id === "lines") showLines();
  if (target.name === "panes") await build().then(measure).catch(fail);
});
one("#stage").addEventListener("keydown", (event) => {
  if (event.target !== one("#stage")) return;
  const turn = { ArrowLeft: [-0.1, 0], ArrowRight: [0.1, 0], ArrowUp: [0, 0.08], ArrowDown: [0, -0.08] }[event.key];
  const near = { "+": 1.15, "=": 1.15, "-": 1 / 1.15 }[event.key];
  if (turn) viewer.turn(...turn);
  else if (near) viewer.near(near);
  else return;
  event.preventDefault();
});

let drawing = null;
/** The builder's drawing is another, or lies elsewhere: what was shown of it is fetched anew. */
async function redrawn() {
  drawing = null;
  if (!viewer || !+one("#drawing").value) return;
  if (state.drawing) await fade();
  else viewer.setBackdrop(null);
}
async function fade() {
  const opacity = one("#drawing").value / 100;
  drawing ??= await get("drawing");
  const front = sheets.get(state.shown)?.handle_y_m ?? 0;
  const image = `${drawing.image}?${state.drawing}`;
  viewer.setBackdrop(opacity ? { ...drawing, image, opacity, y: front - 1, over: true } : null);
}
one("#drawing").addEventListener("input", () => fade().catch(fail));

// --- better porches ----------------------------------------------------------------------

const better = new Better(one("#better"), one("#to-better"), fail, (letter) => {
  line = line.then(async () => {
    try {
      await take(await posted("proposal", { letter }));
    } catch (error) {
      fail(error);
    }
  });
  return line;
});

// --- sizes off a drawing -----------------------------------------------------------------

// the house stands still behind the board, and is built again when that is put aside
const board = new Board(one("#board"), one("#to-board"), (next) => take(next, false), fail, async () => {
  await build();
  await Promise.all([frame(), measure(), fields.fill(state.shown, state.fault_field)]);
});

// --- pictures ----------------------------------------------------------------------------

let watching = 0;
one("#to-pictures").addEventListener("click", async () => {
  const open = one("#pictures").hidden;
  one("#pictures").hidden = !open;
  one("#to-pictures").setAttribute("aria-expanded", open);
  if (open) await showPictures(await get("pictures"));
});
one("#making").addEventListener("submit", async (event) => {
  event.preventDefault();
  const only = one("#making-what").value === "shown" ? [state.shown] : [];
  try {
    await showPictures(await posted("pictures", { size: one("#making-size").value, only }));
  } catch (error) {
    fail(error);
  }
});
for (const button of all("[data-paper]")) {
  button.addEventListener("click", async () => {
    try {
      await showPictures(await posted("papers", { kind: button.dataset.paper, name: state.shown }));
    } catch (error) {
      fail(error);
    }
  });
}
one("#stop").addEventListener("click", async () => showPictures(await posted("stop")));

async function showPictures(said) {
  clearTimeout(watching);
  const bar = one("#progress");
  bar.hidden = said.over;
  bar.max = said.total || 1;
  bar.value = said.done;
  bar.setAttribute("aria-label", "Pictures made");
  for (const button of [one("#make"), ...all("[data-paper]")]) button.disabled = !said.over;
  one("#printed").replaceChildren(
    ...said.papers.map((name) => {
      const item = document.createElement("li");
      item.append(Object.assign(document.createElement("a"), { href: `paper/${encodeURIComponent(name)}`, textContent: name, download: name }));
      return item;
    }),
  );
  one("#stop").disabled = said.over;
  const far = said.total ? [`${said.done} of ${said.total}`, said.what, said.left] : [said.what];
  one("#progress-words").textContent = said.over ? said.fault : far.filter(Boolean).join(", ");
  const standing = new Map(all("#made li").map((item) => [item.dataset.file, item]));
  one("#made").replaceChildren(
    ...said.pictures.map((file) => {
      if (standing.has(file) && said.over) return standing.get(file);
      const address = `picture/${file.split("/").map(encodeURIComponent).join("/")}`;
      const item = document.createElement("li");
      item.dataset.file = file;
      const link = Object.assign(document.createElement("a"), { href: address, target: "_blank", rel: "noopener" });
      link.append(Object.assign(document.createElement("img"), { src: address, alt: file, loading: "lazy" }), file);
      item.append(link);
      return item;
    }),
  );
  if (!said.over) watching = setTimeout(async () => showPictures(await get("pictures")), 1500);
}

// --- beginning ---------------------------------------------------------------------------

function listen() {
  const events = new EventSource("events");
  events.addEventListener("message", async ({ data }) => {
    if (state && data === state.mark) return;
    await line;
    await board.line;
    if (state && data === state.mark) return;
    await take(await get("state"), one("#board").hidden).catch(fail);
    board.refresh();
  });
}

async function begin() {
  const [first, finishes, framed] = await Promise.all([get("state"), get("finishes"), get("views")]);
  views = framed;
  await take(first, false);
  const paper = getComputedStyle(document.documentElement).getPropertyValue("--paper").trim();
  viewer = createViewer(one("#stage"), { finishes, views, paper });
  one("#stage").viewer = viewer;
  const dragged = (moved, by, stroke, pixel = 0) => change("drag", { line: moved, by_m: by, stroke, pixel_m: pixel, name: state.shown });
  const typed = ({ field }, text) => change("set", { field, text, name: state.shown });
  lines = new Lines(one("#handles"), one("#size"), one("#typing"), viewer, dragged, typed);
  viewer.setLook(chosen("look"));
  await build();
  viewer.setView(chosen("view"));
  await light();
  await Promise.all([measure(), fields.fill(state.shown, state.fault_field)]);
  one("#waiting").remove();
  viewer.addEventListener("viewed", ({ detail }) => {
    if (detail === null && (chosen("view") === "free" || viewer.turned())) {
      free = viewer.pose();
      one('input[name="view"][value="free"]').checked = true;
    }
    showLines();
  });
  new ResizeObserver(() =>
    requestAnimationFrame(() => {
      captions(shownDesigns());
      showLines();
    }),
  ).observe(one("#stage"));
  document.body.dataset.ready = "";
  listen();
}

begin().catch((error) => {
  one("#waiting").textContent = `The house cannot be shown here: ${error.message}`;
  document.body.dataset.failed = error.message;
});
