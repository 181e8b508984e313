// The builder's drawing on the board: clicks go out, what was measured comes back. Nothing is
// measured or rounded here.

import { get, posted, sent } from "./ask.js";

const SVG = "http://www.w3.org/2000/svg";
const REACH_PX = 8; // of the screen, from a click to the line that it means
const PAN_PX = 4;
const KEY_PX = 8;
const made = (kind, words = "", more = {}) => Object.assign(document.createElement(kind), { textContent: words, ...more });
const CORNERS = ["lower left", "lower right", "upper right", "upper left"];

export class Board {
  /** `settle(state)` takes the scene's new state; `fail(error)` says what went wrong; `leave` is
   * called when the board is put aside. */
  constructor(section, opener, settle, fail, leave) {
    Object.assign(this, { section, opener, settle, fail, leave });
    section.dataset.steps = 0; // taken
    this.one = (selector) => section.querySelector(selector);
    this.sheet = this.one("#sheet");
    this.paper = this.one("#paper");
    this.lines = this.one("#sheet-lines");
    this.view = { x: 0, y: 0, k: 1 };
    this.said = { open: false };
    this.points = []; // of a length that is known, or of a rectangle
    this.cross = null;
    this.mode = "ask";
    this.line = Promise.resolve();
    opener.addEventListener("click", () => this.show(section.hidden));
    this.one("#board-file").addEventListener("change", ({ target }) => target.files[0] && this.open(target.files[0]));
    this.one("#board-own").addEventListener("click", () => this.step("scene's own"));
    this.one("#board-page").addEventListener("change", ({ target }) => this.step("page", { page: +target.value }));
    this.one("#board-on").addEventListener("click", () => this.step("on"));
    this.one("#board-back").addEventListener("click", () => this.back());
    this.one("#board-rescale").addEventListener("click", () => this.step("unscale"));
    this.one("#board-straighten").addEventListener("click", () => this.begin("straighten"));
    this.one("#board-more").addEventListener("click", () => this.begin("scale"));
    this.one("#board-close").addEventListener("click", () => this.step("close").then(() => this.show(false)));
    this.one("#board-known").addEventListener("submit", (event) => this.know(event));
    this.one("#board-square").addEventListener("submit", (event) => this.square(event));
    this.hands();
    new ResizeObserver(() => this.said.open && this.fit()).observe(this.sheet);
  }

  async show(open) {
    this.section.hidden = !open;
    this.opener.setAttribute("aria-expanded", open);
    document.body.toggleAttribute("data-board", open);
    if (!open) return this.leave().catch(this.fail);
    await this.refresh();
    (this.said.open ? this.sheet : this.one("#board-file")).focus();
  }

  async refresh() {
    if (this.section.hidden) return;
    try {
      this.draw(await get("board"));
    } catch (error) {
      this.fail(error);
    }
  }

  /** One step after the other, so that quick clicks keep their order. */
  step(what, given = {}) {
    return this.after(() => posted("board", { what, ...given }));
  }

  after(ask) {
    this.line = this.line.then(async () => {
      try {
        const { board, state } = await ask();
        this.one("#board-fault").textContent = "";
        this.draw(board);
        await this.settle(state);
      } catch (error) {
        this.one("#board-fault").textContent = error.message;
      }
      this.section.dataset.steps = +this.section.dataset.steps + 1;
    });
    return this.line;
  }

  async open(file) {
    this.begin("ask");
    await this.after(() => sent(`board/open?${new URLSearchParams({ name: file.name })}`, file));
    this.sheet.focus();
  }

  begin(mode) {
    this.mode = mode;
    this.points = [];
    this.draw(this.said);
    this.sheet.focus();
  }

  get reach() {
    return REACH_PX / this.view.k;
  }

  back() {
    if (this.points.length) {
      this.points.pop();
      this.draw(this.said);
    } else if (this.mode !== "ask") this.begin("ask");
    else this.step("back");
  }

  async know(event) {
    event.preventDefault();
    const [start, end] = this.points;
    const length = this.one("#board-length").value;
    await this.step("known", { start, end, length, reach: this.reach });
    if (this.one("#board-fault").textContent) return;
    this.begin("ask");
  }

  async square(event) {
    event.preventDefault();
    const [width, height] = ["#board-width", "#board-height"].map((id) => this.one(id).value);
    await this.step("straighten", { corners: this.points, width, height, reach: this.reach });
    if (this.one("#board-fault").textContent) return;
    this.begin("ask");
  }

  // --- hands -----------------------------------------------------------------------------

  hands() {
    let held = null;
    this.sheet.addEventListener("pointerdown", (event) => {
      if (!this.said.open || event.button) return;
      held = { at: [event.clientX, event.clientY], view: { ...this.view }, moved: false };
      this.sheet.setPointerCapture(event.pointerId);
    });
    this.sheet.addEventListener("pointermove", (event) => {
      if (!held) return this.meet(this.place(event));
      const [dx, dy] = [event.clientX - held.at[0], event.clientY - held.at[1]];
      held.moved ||= Math.hypot(dx, dy) > PAN_PX;
      if (held.moved) this.look({ ...held.view, x: held.view.x + dx, y: held.view.y + dy });
    });
    this.sheet.addEventListener("pointerup", (event) => {
      const click = held && !held.moved;
      held = null;
      if (click) this.click(this.place(event));
    });
    this.sheet.addEventListener("pointerleave", () => this.one("#hair").replaceChildren());
    this.sheet.addEventListener("pointercancel", () => (held = null));
    this.sheet.addEventListener("wheel", (event) => {
      event.preventDefault();
      this.zoom(Math.exp(-event.deltaY / 400), event.clientX, event.clientY);
    }, { passive: false });
    this.sheet.addEventListener("keydown", (event) => this.key(event));
  }

  key(event) {
    if (!this.said.open) return;
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    const box = this.sheet.getBoundingClientRect();
    const middle = [(box.width / 2 - this.view.x) / this.view.k, (box.height / 2 - this.view.y) / this.view.k];
    if (way) {
      const step = (event.shiftKey ? 1 : KEY_PX) / this.view.k;
      this.cross = (this.cross ?? middle).map((at, i) => at + step * way[i]);
      this.meet(this.cross);
    } else if (event.key === "Enter" && this.cross) this.click(this.cross);
    else if (event.key === "Backspace") this.back();
    else if (["+", "=", "-"].includes(event.key)) {
      const [x, y] = this.cross ?? middle;
      this.zoom(event.key === "-" ? 1 / 1.3 : 1.3, box.left + this.view.x + x * this.view.k, box.top + this.view.y + y * this.view.k);
    } else return;
    event.preventDefault();
  }

  place(event) {
    const box = this.sheet.getBoundingClientRect();
    return [(event.clientX - box.left - this.view.x) / this.view.k, (event.clientY - box.top - this.view.y) / this.view.k];
  }

  click(at) {
    const wanted = { scale: 2, straighten: 4 }[this.pointing];
    if (!wanted) return this.said.done ? null : this.step("click", { at, reach: this.reach });
    if (this.points.length < wanted) this.points.push(at);
    this.draw(this.said);
    if (this.points.length === wanted) this.one(wanted === 2 ? "#board-length" : "#board-width").focus();
  }

  /** What clicks are for: a scale before all else. */
  get pointing() {
    return this.mode === "ask" && this.said.open && !this.said.scaled ? "scale" : this.mode;
  }

  /** Show where a click would come to. */
  async meet(at) {
    if (!this.said.open || this.said.done) return;
    this.hovered = at;
    if (this.meeting) return;
    this.meeting = true;
    while (this.hovered) {
      const asked = this.hovered;
      this.hovered = null;
      const found = await posted("board/met", { at: asked, reach: this.reach }).catch(() => null);
      if (found) this.hair(found);
    }
    this.meeting = false;
  }

  hair({ x, y, on_x, on_y }) {
    if (this.said.done) return this.one("#hair").replaceChildren();
    const { width, height } = this.said;
    const parts = [];
    if (on_x) parts.push(drawn("line", { x1: x, y1: 0, x2: x, y2: height }));
    if (on_y) parts.push(drawn("line", { x1: 0, y1: y, x2: width, y2: y }));
    parts.push(drawn("circle", { cx: x, cy: y, r: 5 / this.view.k, class: on_x || on_y ? "met" : "" }));
    this.one("#hair").replaceChildren(...parts);
  }

  // --- looking ---------------------------------------------------------------------------

  look(view) {
    this.view = view;
    this.paper.style.transform = `translate(${view.x}px, ${view.y}px) scale(${view.k})`;
    this.marks();
  }

  zoom(factor, clientX, clientY) {
    const box = this.sheet.getBoundingClientRect();
    const k = Math.min(Math.max(this.view.k * factor, 0.05), 24);
    const [px, py] = [clientX - box.left, clientY - box.top];
    const by = k / this.view.k;
    this.look({ x: px - by * (px - this.view.x), y: py - by * (py - this.view.y), k });
  }

  fit() {
    const box = this.sheet.getBoundingClientRect();
    const { width, height } = this.said;
    if (!box.width || !width) return;
    const k = Math.min((box.width - 24) / width, (box.height - 24) / height);
    this.look({ x: (box.width - k * width) / 2, y: (box.height - k * height) / 2, k });
  }

  draw(said) {
    const another = said.seen !== this.said.seen;
    this.said = said;
    this.one("#board-own").hidden = !said.scenes || said.open;
    this.section.toggleAttribute("data-laid", said.open);
    this.one("#board-work").hidden = !said.open;
    if (another && said.open) {
      const image = this.one("#sheet-image");
      Object.assign(image, { src: `board.png?${said.seen}`, width: said.width, height: said.height, alt: said.name });
      this.lines.setAttribute("viewBox", `0 0 ${said.width} ${said.height}`);
      this.lines.setAttribute("width", said.width);
      this.lines.setAttribute("height", said.height);
      this.cross = null;
      this.fit();
    }
    if (!said.open) return;
    const page = this.one("#board-page");
    page.closest("label").hidden = said.pages < 2;
    page.max = said.pages;
    page.value = said.page;
    this.one("#board-name").textContent = said.name;
    this.one("#board-scale").textContent = said.scale;
    this.asking();
    this.list();
    this.marks();
    this.one("#hair").replaceChildren();
  }

  asking() {
    const { said } = this;
    const pointing = this.pointing;
    const count = this.points.length;
    let words = said.done ? "Every size is taken. The model's front lies over the drawing in red." : said.asks;
    if (pointing === "scale") words = ["One end of a length that is known", "Its other end", "How long it is"][count];
    if (pointing === "straighten") words = count < 4 ? `A rectangle on the front: its ${CORNERS[count]} corner` : "How wide and how high it is";
    this.one("#board-asks").textContent = words;
    this.one("#board-known").hidden = !(pointing === "scale" && count === 2);
    this.one("#board-square").hidden = !(pointing === "straighten" && count === 4);
    const on = this.one("#board-on");
    on.hidden = pointing !== "ask" || !said.may_pass;
    on.textContent = said.pass_words ?? "";
    this.one("#board-back").disabled = pointing === "ask" && !Object.keys(said.marks ?? {}).length;
    this.one("#board-straighten").hidden = pointing === "straighten";
    this.one("#board-more").hidden = !said.scaled || pointing === "scale";
    this.one("#board-rescale").hidden = !said.scaled;
    this.one("#board-said").replaceChildren(...(said.said ?? []).map((text) => made("li", text)));
  }

  list() {
    const off = new Map();
    for (const { key, written } of this.said.deviations ?? []) {
      if (written !== "agrees") off.set(key, [...(off.get(key) ?? []), written]);
    }
    this.one("#board-list").replaceChildren(
      ...(this.said.list ?? []).map(({ key, words, state, readings }) => {
        const item = made("li", "", { className: state });
        const button = made("button", words, { type: "button" });
        button.disabled = state === "waits" || state === "now";
        button.addEventListener("click", () => this.step("ask", { key }));
        item.append(button);
        if (state === "lacks") item.append(made("span", "not drawn"));
        for (const { written, words: what, measured } of readings) {
          item.append(made("b", readings.length > 1 ? `${what} ${written}` : written, { title: measured ? `measured ${measured}` : "" }));
        }
        if (off.has(key)) item.append(made("i", `the model: ${[...new Set(off.get(key))].join(", ")}`));
        return item;
      }),
    );
  }

  /** Marks, the model's lines and how far they are off; sizes as of the screen. */
  marks() {
    const { said } = this;
    const r = 3.5 / this.view.k;
    const all = Object.values(said.marks ?? {}).flat();
    const parts = all.map(([x, y, on_x, on_y]) => drawn("circle", { cx: x, cy: y, r, class: on_x || on_y ? "met" : "" }));
    for (const [x, y] of this.points) parts.push(drawn("circle", { cx: x, cy: y, r: 1.4 * r, class: "end" }));
    if (this.points.length > 1) parts.push(drawn("polyline", { points: this.points.map(String).join(" "), class: "end" }));
    this.one("#marks").replaceChildren(...parts);
    this.one("#model").setAttribute("d", said.front ?? "");
    this.one("#off").replaceChildren(...this.labels());
  }

  labels() {
    const size = 13 / this.view.k;
    const taken = [];
    const parts = [];
    for (const { way, model, low, high, written, key, slight } of this.said.deviations ?? []) {
      const across = way === "z";
      parts.push(drawn("line", across ? { x1: low, y1: model, x2: high, y2: model } : { x1: model, y1: low, x2: model, y2: high }));
      if (this.said.done ? slight : written === "agrees" || !this.recent(key)) continue;
      let [x, y] = across ? [Math.max(low, high) + 0.5 * size, model + 0.3 * size] : [model + 0.3 * size, Math.min(low, high) - 0.4 * size];
      while (taken.some(([a, b]) => Math.abs(a - x) < 5 * size && Math.abs(b - y) < size)) y -= size;
      taken.push([x, y]);
      const text = drawn("text", { x, y, "font-size": size });
      text.textContent = written;
      parts.push(text);
    }
    return parts;
  }

  /** Whether a question is the one that is asked, or was answered last. */
  recent(key) {
    const keys = Object.keys(this.said.marks ?? {}).filter((each) => each !== this.said.asked);
    return key === this.said.asked || key === keys.at(-1);
  }
}

function drawn(kind, attributes) {
  const part = document.createElementNS(SVG, kind);
  for (const [key, value] of Object.entries(attributes)) if (value !== "") part.setAttribute(key, value);
  return part;
}
