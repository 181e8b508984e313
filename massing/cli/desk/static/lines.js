// Lines of the front that a hand can move: drawn over the elevation, dragged, or moved by keys.

import { posted } from "./ask.js";

const SVG = "http://www.w3.org/2000/svg";
const KEY_M = 0.0254;

export class Lines {
  /** `drag(line, by, stroke, pixel)` carries a drag out; `viewer` says where things stand. */
  constructor(svg, size, viewer, drag) {
    Object.assign(this, { svg, size, viewer, drag });
    this.lines = [];
    this.shown = false;
    this.held = null;
  }

  show(lines, y, pane, shown) {
    Object.assign(this, { lines, y, pane, shown });
    this.draw();
  }

  draw() {
    if (this.held) return;
    const focused = document.activeElement?.dataset?.line;
    this.svg.replaceChildren(...(this.shown ? this.lines.map((line, i) => this.mark(line, i)) : []).filter(Boolean));
    if (focused) this.svg.querySelector(`[data-line="${CSS.escape(focused)}"]`)?.focus();
  }

  ends(line, by = 0) {
    const at = line.at_m + by;
    const place = (across) => (line.way === "x" ? [at, this.y, across] : [across, this.y, at]);
    return [place(line.low_m), place(line.high_m)].map((p) => this.viewer.project(p, this.pane));
  }

  mark(line, number) {
    const [a, b] = this.ends(line);
    if (!a || !b) return null;
    const group = document.createElementNS(SVG, "g");
    group.setAttribute("class", line.way);
    group.setAttribute("tabindex", "0");
    group.setAttribute("role", "slider");
    group.setAttribute("aria-label", line.words);
    group.setAttribute("aria-valuenow", line.value_m.toFixed(3));
    group.setAttribute("aria-orientation", line.way === "x" ? "horizontal" : "vertical");
    group.dataset.line = `${line.field} ${line.words} ${number}`;
    // grips of lines that lie near one another stand apart along them
    const share = line.way === "z" ? 0.97 - 0.05 * (number % 4) : 0.5 + 0.12 * (number % 3);
    const grip = [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
    for (const kind of ["", "wide"]) group.append(drawn("line", { x1: a[0], y1: a[1], x2: b[0], y2: b[1], class: kind }));
    group.append(drawn("circle", { cx: grip[0], cy: grip[1], r: 4.5 }));
    group.addEventListener("pointerdown", (event) => this.take(event, line, group));
    group.addEventListener("pointerenter", () => !this.held && this.say(line, 0, grip));
    group.addEventListener("pointerleave", () => !this.held && (this.size.hidden = true));
    group.addEventListener("focus", () => this.say(line, 0, grip));
    group.addEventListener("blur", () => (this.size.hidden = true));
    group.addEventListener("keydown", (event) => {
      const way = { ArrowRight: ["x", 1], ArrowLeft: ["x", -1], ArrowUp: ["z", 1], ArrowDown: ["z", -1] }[event.key];
      if (!way || way[0] !== line.way) return;
      event.preventDefault();
      event.stopPropagation();
      this.drag(line, (way[1] * KEY_M * (event.shiftKey ? 6 : 1)) / Math.max(1, Math.abs(line.per_m)), "");
    });
    return group;
  }

  async say(line, by, [x, y]) {
    const asked = (this.asked = Symbol());
    const { size } = await posted("size", { line, by_m: by, pixel_m: by ? this.pixel() : 0 }).catch(() => ({ size: "" }));
    if (asked !== this.asked || !size) return;
    this.size.textContent = `${line.words} ${size}`;
    this.size.hidden = false;
    const box = this.svg.getBoundingClientRect();
    this.size.style.left = `${Math.min(x + 12, box.width - this.size.offsetWidth - 6)}px`;
    this.size.style.top = `${Math.max(4, y - 32)}px`;
  }

  take(event, line, group) {
    event.preventDefault();
    event.stopPropagation();
    group.focus();
    group.setPointerCapture(event.pointerId);
    group.classList.add("held");
    const start = this.along(event, line);
    const stroke = `${line.field} ${Date.now()}`;
    const held = (this.held = { by: 0, sent: 0, busy: false });
    const send = async () => {
      if (this.held !== held || held.busy || held.by === held.sent) return;
      held.busy = true;
      held.sent = held.by;
      await this.drag(line, held.by, stroke, this.pixel());
      held.busy = false;
      send();
    };
    const move = (now) => {
      held.by = this.along(now, line) - start;
      const [a, b] = this.ends(line, held.by);
      for (const each of group.querySelectorAll("line")) {
        for (const [key, value] of Object.entries({ x1: a[0], y1: a[1], x2: b[0], y2: b[1] })) each.setAttribute(key, value);
      }
      const circle = group.querySelector("circle");
      const box = this.svg.getBoundingClientRect();
      const grip = line.way === "x" ? [a[0], now.clientY - box.top] : [now.clientX - box.left, a[1]];
      circle.setAttribute("cx", grip[0]);
      circle.setAttribute("cy", grip[1]);
      this.say(line, held.by, grip);
      send();
    };
    const end = async () => {
      for (const kind of ["pointerup", "pointercancel"]) group.removeEventListener(kind, end);
      group.removeEventListener("pointermove", move);
      this.size.hidden = true;
      while (held.busy) await new Promise((go) => setTimeout(go, 15));
      if (this.held === held) this.held = null;
      if (held.by !== held.sent) await this.drag(line, held.by, stroke, this.pixel());
      this.draw();
    };
    group.addEventListener("pointermove", move);
    for (const kind of ["pointerup", "pointercancel"]) group.addEventListener(kind, end);
  }

  /** How wide a pixel is at the front, metres. */
  pixel() {
    const { left, top } = this.svg.getBoundingClientRect();
    const [a, b] = [0, 1].map((x) => this.viewer.unproject(left + 40 + x, top + 40, this.y));
    return a && b ? Math.abs(b[0] - a[0]) : 0;
  }

  along(event, line) {
    const place = this.viewer.unproject(event.clientX, event.clientY, this.y);
    return place ? place[line.way === "x" ? 0 : 2] : line.at_m;
  }
}

function drawn(kind, attributes) {
  const made = document.createElementNS(SVG, kind);
  for (const [key, value] of Object.entries(attributes)) if (value !== "") made.setAttribute(key, value);
  return made;
}
