// While pictures are being made: the page reads itself again from its own file, which asks for
// nothing from anywhere. It waits while a hand is on it, keeps what was chosen, and gives up when
// nothing new has come for a quarter of an hour.
(() => {
  "use strict";
  const EVERY_MS = 5000;
  const AT_REST_MS = 8000;
  const GIVE_UP_MS = 15 * 60 * 1000;
  const note = document.querySelector("#coming");
  const key = `massing ${location.pathname}`;
  const kept = (() => {
    try {
      return JSON.parse(sessionStorage.getItem(key)) || {};
    } catch {
      return {};
    }
  })();
  const stamp = `${note.dataset.coming} ${document.querySelectorAll("img.picture").length}`;
  const since = kept.stamp === stamp ? kept.since : Date.now();

  for (const [name, value] of Object.entries(kept.chosen || {})) {
    const wanted = [...document.getElementsByName(name)].find((each) => each.value === value);
    if (wanted && !wanted.checked) wanted.click();
  }

  let touched = 0;
  for (const kind of ["pointerdown", "pointermove", "keydown", "wheel", "touchstart"]) {
    addEventListener(kind, () => (touched = Date.now()), { passive: true });
  }

  function again() {
    if (Date.now() - since > GIVE_UP_MS) {
      note.firstElementChild.textContent = `${note.dataset.coming} pictures were not made yet when this page was written.`;
      return;
    }
    if (Date.now() - touched < AT_REST_MS || document.querySelector("dialog[open]")) {
      setTimeout(again, 1000);
      return;
    }
    const chosen = {};
    for (const each of document.querySelectorAll("input[type=radio]:checked")) {
      chosen[each.name] = each.value;
    }
    try {
      sessionStorage.setItem(key, JSON.stringify({ stamp, since, chosen }));
    } catch {
      // a browser that keeps nothing for files only forgets what was chosen
    }
    location.reload();
  }
  setTimeout(again, EVERY_MS);
})();
