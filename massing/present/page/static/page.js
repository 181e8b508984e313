// The page's own hands: the divider, the pictures, and the desk of lights before the model.
(() => {
  "use strict";
  const one = (selector) => document.querySelector(selector);
  const all = (selector) => [...document.querySelectorAll(selector)];
  const chosen = (name) => one(`input[name="${name}"]:checked`)?.value;
  const read = (id) => JSON.parse(document.getElementById(id).textContent);

  // --- pictures --------------------------------------------------------------------------

  let pictures = null;
  let lights = null;
  const urls = new Map();

  function bytesOf(text) {
    if (Uint8Array.fromBase64) return Uint8Array.fromBase64(text.trim());
    const plain = atob(text.trim());
    const bytes = new Uint8Array(plain.length);
    for (let i = 0; i < plain.length; i++) bytes[i] = plain.charCodeAt(i);
    return bytes;
  }

  const keyOf = (design, look = chosen("look")) =>
    [design, chosen("view"), chosen("light"), look].join("|");

  function pictureUrl(design) {
    const key = keyOf(design);
    if (!pictures[key]) return null;
    if (!urls.has(key)) {
      urls.set(key, URL.createObjectURL(new Blob([bytesOf(pictures[key])], { type: "image/webp" })));
    }
    return urls.get(key);
  }

  function words(design) {
    const name = design.charAt(0).toUpperCase() + design.slice(1);
    return `${name}: ${chosen("view")}, ${chosen("look")}, ${chosen("light")}`;
  }

  function showPicture(image, design) {
    const url = pictureUrl(design);
    image.dataset.design = design;
    image.alt = words(design);
    image.classList.toggle("missing", !url);
    if (url) image.src = url;
  }

  /** A look that no picture of the view has, such as ink of a street, cannot be chosen there. */
  function limitLooks() {
    const looks = all("input[name=look]");
    const designs = all("img.picture").map((image) => image.dataset.design);
    for (const look of looks) look.disabled = !designs.some((d) => pictures[keyOf(d, look.value)]);
    if (one("input[name=look]:checked")?.disabled) {
      const other = looks.find((look) => !look.disabled);
      if (other) other.checked = true;
    }
  }

  function choosePictures() {
    lights ??= read("lights");
    pictures ??= read("pictures");
    limitLooks();
    for (const image of all("img.picture")) showPicture(image, image.dataset.design);
    const line = one("[data-light]");
    if (line) line.textContent = lights[chosen("light")];
  }

  one("#choices")?.addEventListener("change", choosePictures);
  one("#after")?.addEventListener("change", () => {
    pictures ??= read("pictures");
    showPicture(one(".both .right"), chosen("after"));
    one("[data-after]").textContent = one("#after input:checked").nextElementSibling.textContent;
  });

  const divider = one("#divider");
  const divide = () => {
    one(".both").style.setProperty("--at", `${divider.value}%`);
    const share = Math.round(divider.value);
    divider.setAttribute("aria-valuetext", `${share} % the design as drawn, ${100 - share} % the alternative`);
  };
  if (divider) {
    // the edge follows the pointer itself: the browser's own thumb stops short of the ends
    let held = false;
    const follow = (event) => {
      const box = divider.getBoundingClientRect();
      divider.value = (100 * (event.clientX - box.left)) / box.width;
      divide();
    };
    divider.addEventListener("pointerdown", (event) => {
      held = true;
      divider.setPointerCapture(event.pointerId);
      divider.focus({ focusVisible: false });
      event.preventDefault();
      follow(event);
    });
    divider.addEventListener("pointermove", (event) => held && follow(event));
    for (const end of ["pointerup", "pointercancel"]) divider.addEventListener(end, () => (held = false));
    divider.addEventListener("input", divide);
    divide();
  }

  // --- a picture by itself ---------------------------------------------------------------

  const dialog = one("#enlarged");
  const large = one("#enlarged-picture");
  function enlarge(design) {
    pictures ??= read("pictures");
    large.hidden = false;
    showPicture(large, design);
    one("#enlarged-name").textContent = words(design);
    if (!dialog.open) dialog.showModal();
  }
  function step(by) {
    const designs = all(".enlarge").map((button) => button.dataset.design);
    const at = designs.indexOf(large.dataset.design);
    enlarge(designs[(at + by + designs.length) % designs.length]);
  }
  for (const button of all(".enlarge")) {
    button.addEventListener("click", () => enlarge(button.dataset.design));
  }
  one("#last-picture").addEventListener("click", () => step(-1));
  one("#next-picture").addEventListener("click", () => step(1));
  dialog.addEventListener("keydown", (event) => {
    if (event.key === "ArrowLeft") step(-1);
    if (event.key === "ArrowRight") step(1);
  });

  // --- paper -----------------------------------------------------------------------------

  let opened = [];
  addEventListener("beforeprint", () => {
    opened = all("details:not([open])");
    for (const each of opened) each.open = true;
  });
  addEventListener("afterprint", () => {
    for (const each of opened) each.open = false;
  });

  // --- the sun, by a table ---------------------------------------------------------------

  const scene = read("scene");
  const sun = scene.sun;
  const vectors = new Int16Array(bytesOf(sun.vectors).buffer);
  const light = new Uint16Array(bytesOf(sun.light).buffer);

  /** Between the four entries round a day of the year and a minute of its clock. */
  function sunAt(day, clockMinute) {
    const minute = 1440 * day + clockMinute - sun.shift_min[day];
    const at = Math.max(0, minute);
    const row = Math.min(Math.floor(at / 1440) / sun.day_step, sun.rows - 1.000001);
    const column = (at % 1440) / sun.minute_step;
    const [r, c] = [Math.floor(row), Math.min(Math.floor(column), sun.columns - 2)];
    const [down, along] = [row - r, column - c];
    const mixed = (table, width, k) => {
      const entry = (i, j) => table[((r + i) * sun.columns + c + j) * width + k];
      return (
        (1 - down) * ((1 - along) * entry(0, 0) + along * entry(0, 1)) +
        down * ((1 - along) * entry(1, 0) + along * entry(1, 1))
      );
    };
    const towards = [0, 1, 2].map((k) => mixed(vectors, 3, k));
    const long = Math.hypot(...towards);
    return {
      direction: towards.map((value) => value / long),
      beam: mixed(light, 2, 0),
      sky: mixed(light, 2, 1),
    };
  }

  const POINTS = "N NNE NE ENE E ESE SE SSE S SSW SW WSW W WNW NW NNW".split(" ");
  const MONTHS = "January February March April May June July August September October November December".split(" ");

  function dayWords(day) {
    const when = new Date(Date.UTC(sun.year, 0, 1 + day));
    return `${when.getUTCDate()} ${MONTHS[when.getUTCMonth()]}`;
  }
  function hourWords(minute) {
    return `${Math.floor(minute / 60)}:${String(minute % 60).padStart(2, "0")}`;
  }
  function sunWords({ direction: [x, y, z] }) {
    if (z <= 0) return "The sun is down.";
    const high = (Math.asin(z) * 180) / Math.PI;
    const turn = (sun.front_azimuth_deg + (Math.atan2(-x, -y) * 180) / Math.PI + 720) % 360;
    const point = POINTS[Math.round(turn / 22.5) % 16];
    const front = y < 0 ? "on the front" : "behind the front";
    return `Sun ${high.toFixed(1)}° high in the ${point}, ${front}.`;
  }

  // --- the model -------------------------------------------------------------------------

  const stage = one("#stage");
  const hour = one("#hour");
  const day = one("#day");
  day.max = sun.days - 1;
  hour.min = sun.from_min;
  hour.max = sun.to_min;
  day.value = scene.start.day;
  hour.value = scene.start.minute;
  let viewer = null;

  function setSun() {
    const found = sunAt(+day.value, +hour.value);
    one("#hour-words").textContent = hourWords(+hour.value);
    one("#day-words").textContent = dayWords(+day.value);
    hour.setAttribute("aria-valuetext", hourWords(+hour.value));
    day.setAttribute("aria-valuetext", dayWords(+day.value));
    one("#sun-words").textContent = sunWords(found);
    viewer?.setSun(found.direction, found);
  }
  for (const slider of [hour, day]) slider.addEventListener("input", setSun);
  for (const button of all(".times button")) {
    button.addEventListener("click", () => {
      day.value = button.dataset.day;
      hour.value = button.dataset.minute;
      setSun();
    });
  }
  setSun();

  function shownDesigns() {
    const design = chosen("design");
    const count = +(chosen("panes") ?? 1);
    const drawn = scene.designs[0];
    if (count === 1) return [design];
    if (count === 2) return [drawn, design === drawn ? scene.designs[1] : design];
    const four = scene.designs.slice(0, 4);
    return four.includes(design) ? four : [...four.slice(0, 3), design];
  }

  function show() {
    const names = shownDesigns();
    viewer.show(names);
    const several = names.length > 1;
    one("#pane-names").replaceChildren(
      ...names.map((name, i) => {
        const item = document.createElement("li");
        const [x, y] = viewer.pane(i);
        item.style.left = `${x}px`;
        item.style.top = `${y}px`;
        item.textContent = several ? scene.called[name] : "";
        return item;
      }),
    );
  }

  const setLook = () => viewer.setLook(chosen("model-look"));
  const setStand = () => viewer.setView(chosen("stand"));

  stage.addEventListener("keydown", (event) => {
    const turn = { ArrowLeft: [-0.1, 0], ArrowRight: [0.1, 0], ArrowUp: [0, 0.08], ArrowDown: [0, -0.08] }[event.key];
    const near = { "+": 1.15, "=": 1.15, "-": 1 / 1.15 }[event.key];
    if (turn) viewer?.turn(...turn);
    else if (near) viewer?.near(near);
    else return;
    event.preventDefault();
  });

  async function unpack(bytes) {
    const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
    return new Response(stream).arrayBuffer();
  }

  async function begin() {
    const imports = {};
    for (const source of all("script[data-module]")) {
      const blob = new Blob([source.textContent], { type: "text/javascript" });
      imports[source.dataset.module] = URL.createObjectURL(blob);
    }
    const map = document.createElement("script");
    map.type = "importmap";
    map.textContent = JSON.stringify({ imports });
    document.head.append(map);
    const [{ createViewer }, models] = await Promise.all([
      import(imports.viewer),
      unpack(bytesOf(one("#models").textContent)),
    ]);
    const paper = getComputedStyle(document.documentElement).getPropertyValue("--paper").trim();
    viewer = createViewer(stage, { finishes: scene.finishes, views: scene.views, paper });
    stage.viewer = viewer;
    // the wheel scrolls the page until the model is taken in hand; one finger up or down likewise
    const touched = matchMedia("(pointer: coarse)").matches;
    viewer.setZoom(touched);
    if (touched) viewer.canvas.style.touchAction = "pan-y";
    stage.addEventListener("focusin", () => viewer.setZoom(true));
    stage.addEventListener("focusout", () => viewer.setZoom(touched));
    await viewer.load(models);
    setLook();
    setSun();
    show();
    setStand();
    viewer.addEventListener("drawn", () => {
      one("#waiting")?.remove();
      stage.dataset.drawn = "";
    }, { once: true });
    viewer.addEventListener("picked", ({ detail }) => {
      viewer.mark([detail.key]);
      one("#picked").textContent = detail.key.split("/").join(", ");
    });
    one("#model-choices").addEventListener("change", ({ target }) => {
      if (target.name === "design" || target.name === "panes") show();
      if (target.name === "model-look") setLook();
      if (target.id === "figure") viewer.setFigure(target.checked);
    });
    // a view that stands chosen can be chosen again, after the model was turned
    for (const each of all("input[name=stand]")) each.addEventListener("click", setStand);
    addEventListener("resize", show);
  }

  // the words and the first pictures are on the screen before the model is unpacked
  const painted = new Promise((done) => requestAnimationFrame(() => setTimeout(done, 0)));
  painted.then(begin).catch((fault) => {
    const waiting = one("#waiting");
    if (waiting) waiting.textContent = `The model cannot be shown here: ${fault.message}`;
    stage.dataset.failed = fault.message;
  });
})();
