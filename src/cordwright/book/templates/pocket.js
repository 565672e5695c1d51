"use strict";
// The pocket page's own script: which log is next, what is laid, the diary. Everything stays on this phone until saved.
(() => {
  const root = document.documentElement;
  const plan = JSON.parse(document.getElementById("plan").textContent);
  const $ = (id) => document.getElementById(id);
  const key = `cordwright-pocket:${plan.project}`;
  const store = (() => {
    try {
      localStorage.setItem(`${key}:try`, "1");
      localStorage.removeItem(`${key}:try`);
      return localStorage;
    } catch {
      return null;
    }
  })();

  function remembered() {
    const empty = { laid: {}, entries: [], counted: {}, panel: "", batches: 0 };
    if (!store) return empty;
    const text = store.getItem(key);
    if (!text) return empty;
    try {
      return { ...empty, ...JSON.parse(text) };
    } catch {
      // What cannot be read is set aside, never thrown away.
      store.setItem(`${key}:unread:${Date.now()}`, text);
      return empty;
    }
  }
  const state = remembered();
  function keep() {
    if (!store) return;
    try {
      store.setItem(key, JSON.stringify(state));
    } catch {
      $("unkept").hidden = false;
    }
  }

  // Pages
  const pages = [...document.querySelectorAll("main > section")];
  function turn() {
    const wanted = pages.find((p) => `#${p.id}` === location.hash) || pages[0];
    for (const page of pages) page.hidden = page !== wanted;
    for (const link of document.querySelectorAll(".rod a")) {
      if (link.hash === `#${wanted.id}`) link.setAttribute("aria-current", "page");
      else link.removeAttribute("aria-current");
    }
    window.scrollTo(0, 0);
    if (wanted.id === "diary") count();
  }

  // Laying
  const panels = new Map(plan.panels.map((p) => [p.slug, p]));
  const articles = new Map([...document.querySelectorAll("article.panel")].map((a) => [a.dataset.slug, a]));
  const marks = new Map();
  for (const [slug, article] of articles) {
    const found = new Map();
    for (const g of article.querySelectorAll("g.log[data-name]")) found.set(g.dataset.name, { shape: g });
    for (const li of article.querySelectorAll("li[data-log]")) found.get(li.dataset.log).row = li;
    marks.set(slug, found);
    article.dataset.whole = article.querySelector("svg").getAttribute("viewBox");
  }
  let now = panels.has(state.panel) ? state.panel : plan.panels.length ? plan.panels[0].slug : "";
  let picked = null;
  let whole = false;

  const next = (slug) => panels.get(slug).logs.find((log) => !state.laid[log.id]) || null;

  function look() {
    const article = articles.get(now);
    const svg = article.querySelector("svg");
    const [, , width, height] = article.dataset.whole.split(" ").map(Number);
    const log = picked || next(now);
    if (whole || !log) {
      svg.setAttribute("viewBox", article.dataset.whole);
      return;
    }
    // A mean log end comes to a thumb's width; the log at hand stands in the middle.
    const logs = panels.get(now).logs;
    const mean = logs.reduce((sum, g) => sum + g.r, 0) / logs.length;
    const span = Math.min(width, Math.max(mean * 2 * 7, log.r * 4));
    const tall = Math.min(height, span * 0.85);
    const x = Math.min(Math.max(log.x - span / 2, 0), width - span);
    const y = Math.min(Math.max(log.y - tall / 2, 0), height - tall);
    svg.setAttribute("viewBox", `${x} ${y} ${span} ${tall}`);
  }

  function told(log) {
    const row = marks.get(now).get(log.id).row;
    const rows = [
      ["Log end", `${log.id} of ${row.dataset.stem}`],
      ["Across", row.dataset.size],
      ["Rests on", row.dataset.rests],
    ];
    if (row.dataset.note) rows.push(["Note", row.dataset.note]);
    return rows;
  }

  function show() {
    if (!now) return;
    for (const [slug, article] of articles) article.hidden = slug !== now;
    for (const button of document.querySelectorAll("[data-panel]")) {
      button.setAttribute("aria-pressed", String(button.dataset.panel === now));
    }
    const panel = panels.get(now);
    const log = picked || next(now);
    for (const each of panel.logs) {
      const mark = marks.get(now).get(each.id);
      const done = Boolean(state.laid[each.id]);
      mark.shape.classList.toggle("laid", done);
      mark.row.classList.toggle("laid", done);
      mark.shape.classList.toggle("picked", Boolean(log) && each.id === log.id);
    }
    const left = panel.logs.filter((each) => !state.laid[each.id]).length;
    $("next").textContent = log
      ? `${picked ? "" : "Next: "}${panel.name} ${log.lift}-${log.number}. ${panel.logs.length - left} laid, ${left} to go.`
      : `${panel.name}: every log end is laid.`;
    const list = articles.get(now).querySelector(".about");
    list.replaceChildren();
    for (const [term, text] of log ? told(log) : []) {
      const dt = document.createElement("dt");
      const dd = document.createElement("dd");
      dt.textContent = term;
      dd.textContent = text;
      list.append(dt, dd);
    }
    for (const button of articles.get(now).querySelectorAll("[data-act=zoom]")) {
      button.setAttribute("aria-pressed", String(whole));
    }
    look();
  }

  const acts = {
    laid() {
      const log = picked || next(now);
      if (!log) return;
      state.laid[log.id] = new Date().toISOString();
      picked = null;
    },
    back() {
      const last = picked || [...panels.get(now).logs].reverse().find((log) => state.laid[log.id]);
      if (last) delete state.laid[last.id];
      picked = null;
    },
    zoom() {
      whole = !whole;
    },
  };
  for (const [slug, article] of articles) {
    for (const button of article.querySelectorAll("[data-act]")) {
      button.addEventListener("click", () => {
        acts[button.dataset.act]();
        keep();
        show();
      });
    }
    article.querySelector("svg").addEventListener("click", (event) => {
      // The nearest centre is meant, however thick the glove.
      const svg = event.currentTarget;
      const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
      const near = (log) => Math.hypot(log.x - at.x, log.y - at.y) - log.r;
      picked = panels.get(slug).logs.reduce((best, log) => (near(log) < near(best) ? log : best));
      show();
    });
  }
  for (const button of document.querySelectorAll("[data-panel]")) {
    button.addEventListener("click", () => {
      now = button.dataset.panel;
      state.panel = now;
      picked = null;
      keep();
      show();
    });
  }

  // Diary
  const form = $("entry");
  const fresh = () => Object.keys(state.laid).filter((id) => !state.counted[id]);
  const count = () => {
    $("logs").textContent = String(fresh().length);
    if (!form.elements.date.value) form.elements.date.value = today();
    if (!form.elements.batches.value && state.batches) form.elements.batches.value = String(state.batches);
    if (!form.elements.panel.value && now) form.elements.panel.value = panels.get(now).name;
  };
  function today() {
    const day = new Date();
    return new Date(day - day.getTimezoneOffset() * 60000).toISOString().slice(0, 10);
  }
  function number(name, words, least, most) {
    const text = form.elements[name].value.trim().replace("−", "-").replace(",", ".");
    if (!text) return null;
    const value = Number(text);
    if (!Number.isFinite(value) || value < least || value > most) {
      throw new Error(`${words}: "${form.elements[name].value}" is not a number from ${least} to ${most}.`);
    }
    return value;
  }
  function readings() {
    const text = form.elements.moisture.value.trim();
    return text ? text.split(/[\s;]+/).map((word) => {
      const value = Number(word.replace(",", ".").replace("%", ""));
      if (!Number.isFinite(value) || value < 0 || value > 200) {
        throw new Error(`Moisture: "${word}" is not a percentage from 0 to 200.`);
      }
      return value;
    }) : [];
  }
  function entry() {
    return {
      id: crypto.randomUUID ? crypto.randomUUID() : `${Date.now()}-${Math.random().toString(16).slice(2)}`,
      made: new Date().toISOString(),
      date: form.elements.date.value,
      panel: form.elements.panel.value || null,
      area_m2: number("area", "Laid today", 0, 50),
      logs: fresh(),
      batches: number("batches", "Batches", 0, 500),
      sky: form.elements.sky.value || null,
      hours: number("hours", "Hours", 0, 24),
      low_degC: number("low", "Coldest", -60, 60),
      high_degC: number("high", "Warmest", -60, 60),
      moisture_percent: readings(),
      note: form.elements.note.value,
    };
  }
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    $("fault").textContent = "";
    try {
      const made = entry();
      if (!made.date) throw new Error("Which day? Choose one.");
      state.entries.push(made);
      for (const id of made.logs) state.counted[id] = made.id;
      state.batches = 0;
      keep();
      form.reset();
      count();
      list();
    } catch (fault) {
      $("fault").textContent = fault.message;
    }
  });
  $("more").addEventListener("click", () => {
    const field = form.elements.batches;
    state.batches = (Number(field.value) || 0) + 1;
    field.value = String(state.batches);
    keep();
  });
  function list() {
    $("kept").replaceChildren(
      ...state.entries.map((e) => {
        const li = document.createElement("li");
        const words = [e.date, e.panel, e.area_m2 === null ? "" : `${e.area_m2} m²`, `${e.logs.length} log ends`];
        if (e.batches !== null) words.push(`${e.batches} batches`);
        if (e.sky) words.push(e.sky);
        li.textContent = words.filter(Boolean).join(", ");
        return li;
      }),
    );
  }
  const exported = () =>
    JSON.stringify(
      { schema: plan.schema, kind: "cordwright-diary", project: plan.project, revision: plan.revision, mark: plan.mark, laid: state.laid, entries: state.entries },
      null,
      1,
    );
  $("save").addEventListener("click", () => {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([exported()], { type: "application/json" }));
    link.download = `diary-${today()}.json`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
    $("told").textContent = `Saved as ${link.download}. The entries stay here too.`;
  });
  $("copy").addEventListener("click", async () => {
    try {
      await navigator.clipboard.writeText(exported());
      $("told").textContent = "Copied. Paste it into a message or a note.";
    } catch {
      $("told").textContent = "This viewer does not let the page copy: save as a file instead.";
    }
  });

  root.classList.add("scripted");
  $("unkept").hidden = Boolean(store);
  window.addEventListener("hashchange", turn);
  turn();
  show();
  list();
  count();
})();
