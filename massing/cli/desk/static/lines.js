// Lines of the front that a hand can move: drawn over the elevation, dragged, or moved by keys.

import { posted } from "./ask.js";

const SVG = "http://www.w3.org/2000/svg";
const KEY_M = 0.0254;
const GRIP_PX = 17; // between grips

export class Lines {
  /** `drag(line, by, stroke, pixel)` carries a drag out, `set(line, text)` what is typed into the
   * form; `viewer` says where things stand. */
  constructor(svg, size, typing, viewer, drag, set) {
    Object.assign(this, { svg, size, typing, viewer, drag });
    this.text = typing.querySelector("input");
    const leave = () => {
      typing.hidden = true;
      this.svg.querySelector(`[data-line="${CSS.escape(this.typed?.at ?? "")}"]`)?.focus();
    };
    typing.addEventListener("submit", (event) => {
      event.preventDefault();
      set(this.typed.line, this.text.value);
      leave();
    });
    this.text.addEventListener("keydown", (event) => event.key === "Escape" && leave());
    this.text.addEventListener("blur", () => (typing.hidden = true));
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
    this.grips = []; // of the lines that are drawn: where each is, and its group
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
    const grip = this.free(line.way, a, b);
    this.grips.push({ grip, a, b, line, group });
    for (const kind of ["", "wide"]) group.append(drawn("line", { x1: a[0], y1: a[1], x2: b[0], y2: b[1], class: kind }));
    group.append(drawn("circle", { cx: grip[0], cy: grip[1], r: 4.5 }));
    group.addEventListener("pointerdown", (event) => this.take(event, ...this.nearest(event, line, group)));
    group.addEventListener("pointermove", (event) => !this.held && this.point(event, line, group));
    group.addEventListener("pointerleave", () => {
      if (this.held) return;
      this.pointed = null;
      this.size.hidden = true;
      for (const { group: each } of this.grips) each.classList.remove("meant");
    });
    group.addEventListener("focus", () => this.say(line, 0, grip));
    group.addEventListener("blur", () => (this.size.hidden = true));
    group.addEventListener("keydown", (event) => {
      if (event.key === "Enter" || /^\d$/.test(event.key)) {
        event.preventDefault();
        this.type(line, group, grip, event.key === "Enter" ? "" : event.key);
        return;
      }
      const way = { ArrowRight: ["x", 1], ArrowLeft: ["x", -1], ArrowUp: ["z", 1], ArrowDown: ["z", -1] }[event.key];
      if (!way || way[0] !== line.way) return;
      event.preventDefault();
      event.stopPropagation();
      this.drag(line, (way[1] * KEY_M * (event.shiftKey ? 6 : 1)) / Math.max(1, Math.abs(line.per_m)), "");
    });
    return group;
  }

  /** A place on a line for its grip where no other grip is near, and within the picture. */
  free(way, a, b) {
    const box = this.svg.getBoundingClientRect();
    const at = (share) => [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
    const shares = way === "z" ? [0.97, 0.9, 0.83, 0.76, 0.69, 0.62, 0.55, 0.4] : [0.5, 0.62, 0.38, 0.72, 0.28, 0.82, 0.18];
    const room = ([x, y]) => Math.min(...this.grips.map(({ grip }) => Math.hypot(grip[0] - x, grip[1] - y)), x + 2, box.width + 2 - x, y + 2, box.height + 2 - y);
    return shares.map(at).find((grip) => room(grip) >= GRIP_PX) ?? shares.map(at).sort((p, q) => room(q) - room(p))[0];
  }

  /** Of lines that lie under the pointer together, the one whose grip, or which, is nearest. */
  nearest(event, line, group) {
    const box = this.svg.getBoundingClientRect();
    const [x, y] = [event.clientX - box.left, event.clientY - box.top];
    const far = ({ grip, a, b }) => {
      const along = [b[0] - a[0], b[1] - a[1]];
      const length = along[0] ** 2 + along[1] ** 2 || 1;
      const share = Math.min(1, Math.max(0, ((x - a[0]) * along[0] + (y - a[1]) * along[1]) / length));
      const off = Math.hypot(x - a[0] - share * along[0], y - a[1] - share * along[1]);
      const held = Math.hypot(x - grip[0], y - grip[1]);
      return held <= GRIP_PX / 2 ? held / GRIP_PX - 1 : off; // a grip before any line
    };
    const best = this.grips.toSorted((p, q) => far(p) - far(q))[0];
    return best && far(best) < 8 ? [best.line, best.group] : [line, group];
  }

  /** Show which of them the pointer would take. */
  point(event, line, group) {
    const [meant, its] = this.nearest(event, line, group);
    for (const { group: each } of this.grips) each.classList.toggle("meant", each === its);
    if (this.pointed === meant) return;
    this.pointed = meant;
    this.say(meant, 0, this.grips.find((each) => each.group === its)?.grip ?? [0, 0]);
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

  /** Type a line's size where it stands. */
  type(line, group, [x, y], begun = "") {
    this.typed = { line, at: group.dataset.line };
    this.size.hidden = true;
    this.typing.hidden = false;
    this.typing.querySelector("label").textContent = line.words;
    this.text.value = begun;
    const box = this.svg.getBoundingClientRect();
    this.typing.style.left = `${Math.max(4, Math.min(x + 12, box.width - this.typing.offsetWidth - 6))}px`;
    this.typing.style.top = `${Math.max(4, y - 32)}px`;
    this.text.focus();
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
