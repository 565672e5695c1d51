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
    const empty = { laid: {}, entries: [], counted: {}, typed: {}, panel: "", batches: 0, who: "" };
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
  const fields = form.elements;
  const fresh = () => Object.keys(state.laid).filter((id) => !state.counted[id]);
  // The entry that is being changed; what is kept is never overwritten: a change is an entry that points at the old one.
  let mended = null;
  const logsNow = () => (mended ? [...mended.logs] : fresh());
  const count = () => {
    $("logs").textContent = String(logsNow().length);
    if (!fields.date.value) fields.date.value = today();
    if (!mended && !fields.batches.value && state.batches) fields.batches.value = String(state.batches);
    if (!mended && !fields.panel.value && now) fields.panel.value = panels.get(now).name;
    if (!fields.who.value) fields.who.value = state.who;
  };
  function today() {
    const day = new Date();
    return new Date(day - day.getTimezoneOffset() * 60000).toISOString().slice(0, 10);
  }
  // What one shown unit is in the unit that is kept; the page shows the owner's own.
  const imperial = plan.units === "imperial";
  const shown = {
    area: imperial ? 0.09290304 : 1,
    rain: imperial ? 25.4 : 1,
    crack: imperial ? 25.4 : 1,
    mass: imperial ? 0.45359237 : 1,
  };
  const even = (value) => Number(value.toPrecision(9));
  function number(name, words, least, most) {
    const text = fields[name].value.trim().replace("−", "-").replace(",", ".");
    if (!text) return null;
    const value = Number(text);
    if (!Number.isFinite(value) || value < least || value > most) {
      throw new Error(`${words}: "${fields[name].value}" is not a number from ${least} to ${most}.`);
    }
    return value;
  }
  function amount(name, words, most) {
    const value = number(name, words, 0, Math.round(most / shown[name]));
    return value === null ? null : even(value * shown[name]);
  }
  function wholeNumber(name, words, least, most) {
    const value = number(name, words, least, most);
    if (value !== null && !Number.isInteger(value)) throw new Error(`${words}: "${fields[name].value}" is no whole number.`);
    return value;
  }
  function degrees(name, words) {
    const value = imperial ? number(name, words, -76, 140) : number(name, words, -60, 60);
    return value === null || !imperial ? value : even(((value - 32) * 5) / 9);
  }
  function readings() {
    const text = fields.moisture.value.trim();
    return (text ? text.split(/[\s;]+/) : []).map((word) => {
      const [mark, share] = word.includes("=") ? word.split("=") : ["", word];
      const value = Number(share.replace(",", ".").replace("%", ""));
      if (!share || !Number.isFinite(value) || value < 0 || value > 200) {
        throw new Error(`Moisture: "${word}" is not a percentage from 0 to 200.`);
      }
      return { mark, value };
    });
  }
  function paired(one, other, words) {
    if (Boolean(fields[one].value.trim()) !== Boolean(fields[other].value.trim())) throw new Error(words);
  }
  // The card is for one tub; where a batch is too much for it, tubs are counted here and whole batches kept.
  function batches() {
    const value = number("batches", plan.tubs > 1 ? "Tubs" : "Batches", 0, 500);
    return value === null ? null : even(value / plan.tubs);
  }
  const freshId = () =>
    crypto.randomUUID ? crypto.randomUUID() : `${Date.now()}-${Math.random().toString(16).slice(2)}`;
  const word = (name) => fields[name].value.trim();
  function entry() {
    const low = degrees("low", "Coldest");
    const high = degrees("high", "Warmest");
    if (low !== null && high !== null && low > high) throw new Error("The coldest is warmer than the warmest.");
    paired("crackAt", "crack", "A crack has a place and a width: write both.");
    paired("end", "mass", "A test end has a mark and a mass: write both.");
    const moisture = readings();
    return {
      id: freshId(),
      made: new Date().toISOString(),
      corrects: mended ? mended.id : null,
      withdraws: null,
      date: fields.date.value,
      panel: fields.panel.value || null,
      area_m2: amount("area", "Laid today", 50),
      logs: logsNow(),
      batches: batches(),
      hours: number("hours", "Hours", 0, 24),
      people: wholeNumber("people", "People", 1, 50),
      trade: fields.trade.value,
      sky: fields.sky.value || null,
      low_degC: low,
      high_degC: high,
      rain_mm: amount("rain", "Rain", 1000),
      lost_h: number("lost", "Hours lost", 0, 24),
      cover: fields.cover.value || null,
      moisture_percent: moisture.map((r) => r.value),
      moisture_logs: moisture.map((r) => r.mark),
      wood_degC: degrees("wood", "Wood"),
      crack_at: word("crackAt") || null,
      crack_mm: amount("crack", "Crack", 100),
      end: word("end") || null,
      mass_kg: amount("mass", "Test end", 500),
      spent: number("spent", "Paid", 0, 1e9),
      spent_on: word("spentOn") || null,
      currency: plan.currency,
      who: word("who") || null,
      note: fields.note.value,
    };
  }
  const spoken = [...fields].filter((f) => f.name && f.name !== "sky").map((f) => f.name);
  const typed = () => ({ ...Object.fromEntries(spoken.map((name) => [name, fields[name].value])), sky: fields.sky.value });
  function leave() {
    mended = null;
    form.reset();
    $("fault").textContent = "";
    $("keep").textContent = "Keep this day";
    $("leave").hidden = true;
    count();
  }
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    $("fault").textContent = "";
    try {
      const made = entry();
      if (!made.date) throw new Error("Which day? Choose one.");
      state.entries.push(made);
      state.typed[made.id] = typed();
      for (const id of made.logs) state.counted[id] = made.id;
      if (!mended) state.batches = 0;
      state.who = word("who");
      keep();
      leave();
      list();
      $("told").textContent = "Kept.";
    } catch (fault) {
      $("fault").textContent = fault.message;
    }
  });
  $("leave").addEventListener("click", leave);
  $("more").addEventListener("click", () => {
    const field = fields.batches;
    const more = (Number(field.value.replace(",", ".")) || 0) + 1;
    if (!mended) state.batches = more;
    field.value = String(more);
    keep();
  });
  function mend(old) {
    form.reset();
    mended = old;
    const before = state.typed[old.id];
    for (const [name, value] of Object.entries(before)) fields[name].value = value;
    for (const part of form.querySelectorAll("details")) {
      part.open = [...part.querySelectorAll("input, textarea")].some((f) => f.value && f.name !== "who");
    }
    $("keep").textContent = "Keep the change";
    $("leave").hidden = false;
    $("fault").textContent = "";
    count();
    form.scrollIntoView();
    fields.date.focus();
  }
  function takeBack(old) {
    state.entries.push({
      id: freshId(),
      made: new Date().toISOString(),
      corrects: null,
      withdraws: old.id,
      date: old.date,
      logs: [],
      moisture_percent: [],
      note: "",
    });
    // Its log ends stay laid on the wall and come with the next day kept.
    for (const id of old.logs) delete state.counted[id];
    if (mended && mended.id === old.id) leave();
    keep();
    count();
    list();
    $("told").textContent = "Taken back. The diary keeps that it was there.";
  }
  function button(words, name, act) {
    const made = document.createElement("button");
    made.type = "button";
    made.textContent = words;
    made.setAttribute("aria-label", name);
    made.addEventListener("click", act);
    return made;
  }
  function told_of(e) {
    const words = [e.date, e.panel, e.area_m2 === null ? "" : `${Number((e.area_m2 / shown.area).toPrecision(3))} ${imperial ? "ft²" : "m²"}`];
    if (e.logs.length) words.push(`${e.logs.length} log ends`);
    if (e.batches) words.push(`${Number((e.batches * plan.tubs).toPrecision(3))} ${plan.tubs > 1 ? "tubs" : "batches"}`);
    if (e.hours) words.push(`${e.hours} h${e.trade && e.trade !== "laying" ? ` ${e.trade}` : ""}`);
    if (e.sky) words.push(e.sky);
    if (e.crack_at) words.push(`crack at ${e.crack_at}`);
    if (e.end) words.push(`test end ${e.end}`);
    if (e.spent) words.push(`${e.spent} ${e.currency}`);
    if (e.moisture_percent.length) words.push(`${e.moisture_percent.length} readings`);
    if (e.note) words.push(e.note.slice(0, 40));
    return words.filter(Boolean).join(", ");
  }
  function list() {
    const gone = new Set(state.entries.flatMap((e) => [e.corrects, e.withdraws]).filter(Boolean));
    const standing = state.entries.filter((e) => !e.withdraws && !gone.has(e.id));
    $("kept").replaceChildren(
      ...standing.map((e) => {
        const li = document.createElement("li");
        const said = told_of(e);
        const text = document.createElement("span");
        text.textContent = e.corrects ? `${said} (changed)` : said;
        const keys = document.createElement("span");
        keys.className = "keys";
        if (state.typed[e.id]) keys.append(button("Change", `Change ${said}`, () => mend(e)));
        keys.append(button("Take back", `Take back ${said}`, () => takeBack(e)));
        li.append(text, keys);
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
