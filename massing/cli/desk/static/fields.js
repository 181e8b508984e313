// The fields of a design: their values, where these come from, and the way back to the rule.

import { get } from "./ask.js";

const KEPT_OPEN = new Set(["Columns", "Entablature"]);

export class Fields {
  /** `change(what, given)` carries out a change; `groups` is filled. */
  constructor(groups, search, change) {
    this.groups = groups;
    this.search = search;
    this.change = change;
    this.name = "";
    let soon = 0;
    search.addEventListener("input", () => {
      clearTimeout(soon);
      soon = setTimeout(() => this.fill(this.name), 150);
    });
  }

  async fill(name, faultField = "") {
    this.name = name;
    const wanted = this.search.value.trim();
    const rows = await get("fields", { name, search: wanted });
    if (name !== this.name || wanted !== this.search.value.trim()) return;
    const held = document.activeElement?.dataset?.field;
    const bySubject = Map.groupBy ? Map.groupBy(rows, (row) => row.subject) : grouped(rows);
    const made = [...bySubject].map(([subject, own]) => this.group(subject, own, wanted, faultField));
    if (!made.length) made.push(Object.assign(document.createElement("p"), { className: "none", textContent: "No field has that in its name." }));
    this.groups.replaceChildren(...made);
    if (held) this.groups.querySelector(`[data-field="${CSS.escape(held)}"]`)?.focus();
  }

  group(subject, rows, wanted, faultField) {
    const group = document.createElement("details");
    group.open = wanted !== "" || KEPT_OPEN.has(subject) || rows.some((row) => row.field === faultField);
    const head = document.createElement("summary");
    head.textContent = subject;
    group.append(head, ...rows.map((row) => this.row(row, row.field === faultField)));
    group.addEventListener("toggle", () => {
      if (this.search.value) return;
      if (group.open) KEPT_OPEN.add(subject);
      else KEPT_OPEN.delete(subject);
    });
    return group;
  }

  row(row, atFault) {
    const field = document.createElement("div");
    field.className = `field ${row.source === "given" ? "given" : ""} ${atFault ? "at-fault" : ""}`;
    const line = document.createElement("div");
    const label = document.createElement("label");
    const input = this.input(row);
    input.id = `field ${row.field}`;
    input.dataset.field = row.field;
    label.htmlFor = input.id;
    label.textContent = row.label;
    label.title = row.about;
    line.append(label, input);
    const words = document.createElement("p");
    words.textContent = { given: "given", "as drawn": "as drawn", rule: row.rule || "by rule" }[row.source];
    if (row.optional && row.source !== "rule") {
      const back = document.createElement("button");
      back.textContent = "by rule";
      back.setAttribute("aria-label", `${row.label}: by rule`);
      back.addEventListener("click", () => this.change("unset", { field: row.field, rule: true }));
      words.append(back);
    }
    field.append(line, words);
    return field;
  }

  input(row) {
    const set = (text) => this.change("set", { field: row.field, text });
    if (row.kind === "choice" || row.kind === "switch" || row.kind === "group") {
      const choices = row.kind === "choice" ? row.choices : ["yes", "no"];
      const select = document.createElement("select");
      const now = row.kind === "group" ? (row.there ? "yes" : "no") : row.shown;
      const all = choices.map((choice) => new Option(choice, choice, false, choice === now));
      if (!choices.includes(now)) all.unshift(new Option("by rule", "", true, true));
      select.append(...all);
      select.addEventListener("change", () => set(select.value));
      return select;
    }
    const input = document.createElement("input");
    input.value = row.source === "rule" ? "" : row.written || row.shown;
    input.placeholder = row.source === "rule" ? row.shown : "";
    input.title = row.allowed;
    input.autocomplete = "off";
    input.spellcheck = false;
    input.addEventListener("change", () => set(input.value));
    return input;
  }
}

function grouped(rows) {
  const found = new Map();
  for (const row of rows) found.set(row.subject, [...(found.get(row.subject) ?? []), row]);
  return found;
}
