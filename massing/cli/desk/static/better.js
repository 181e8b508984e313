// Better porches: asked for, watched, shown as small elevations, taken as alternatives.

import { get, posted } from "./ask.js";

const made = (kind, words = "", more = {}) => Object.assign(document.createElement(kind), { textContent: words, ...more });

export class Better {
  /** `take(letter)` puts a proposal into the scene; `fail(error)` says what went wrong. */
  constructor(section, opener, fail, take) {
    this.section = section;
    this.one = (selector) => section.querySelector(selector);
    this.fail = fail;
    this.take = take;
    this.watching = 0;
    this.taken = new Set();
    this.round = 0;
    opener.addEventListener("click", async () => {
      section.hidden = !section.hidden;
      opener.setAttribute("aria-expanded", !section.hidden);
      if (!section.hidden) await this.show(get("proposals"));
    });
    this.one("#looking").addEventListener("submit", async (event) => {
      event.preventDefault();
      this.taken.clear();
      this.round += 1;
      await this.show(posted("proposals"));
    });
  }

  async show(asked) {
    clearTimeout(this.watching);
    try {
      const said = await asked;
      this.progress(said);
      this.list(said);
      if (!said.over) this.watching = setTimeout(() => this.show(get("proposals")), 700);
    } catch (error) {
      this.fail(error);
    }
  }

  progress(said) {
    const bar = this.one("#looked");
    bar.hidden = said.over;
    bar.max = said.total || 1;
    bar.value = said.done;
    bar.setAttribute("aria-label", "Porches measured");
    this.one("#look").disabled = !said.over;
    const words = this.one("#looked-words");
    if (!said.over) words.textContent = said.done && said.done === said.total ? "the few are being drawn …" : said.total ? `${said.done} of ${said.total} porches measured` : "the porches that the limits allow are set out …";
    else if (said.fault) words.textContent = said.fault;
    else if (said.count) words.textContent = `${said.count} porches measured, from ${said.from}; these stand for the kinds of which nothing is better`;
    this.one("#better-caution").textContent = said.few.length ? said.caution : "";
  }

  list(said) {
    const list = this.one("#proposals");
    const key = `${this.round} ${said.few.map(({ name }) => name).join()}`;
    if (list.dataset.key === key) return;
    list.dataset.key = key;
    list.replaceChildren(
      ...said.few.map(({ letter, name, why }) => {
        const item = made("li");
        const head = made("h3");
        head.append(made("b", letter), name);
        const button = made("button", "Take as an alternative", { type: "button" });
        button.disabled = this.taken.has(name);
        button.setAttribute("aria-label", `Take ${name} as an alternative`);
        button.addEventListener("click", async () => {
          button.disabled = true;
          this.taken.add(name);
          await this.take(letter);
        });
        item.append(made("img", "", { src: `proposal/${letter}?${this.round}`, alt: `Front elevation: ${name}` }), head, made("p", why), button);
        return item;
      }),
    );
  }
}
