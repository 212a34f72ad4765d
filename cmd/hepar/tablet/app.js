"use strict";
// One page, one run. What happens is an entry with a key; entries wait in the page while the
// connection is down and are sent once, in order. The page counts by its own clock.
const $ = (id) => document.getElementById(id);
const batch = document.body.dataset.batch;
const base = "/batch/" + encodeURIComponent(batch);
const by = $("by");
by.value = localStorage.getItem("by") || "";
by.addEventListener("change", () => localStorage.setItem("by", by.value.trim()));

async function post(path, body, kind) {
  const answer = await fetch(base + path, { method: "POST", headers: { "Content-Type": kind || "application/json" }, body: kind ? body : JSON.stringify(body) });
  const said = await answer.json().catch(() => ({ error: "the answer cannot be read", do: "try again" }));
  return { ok: answer.ok, status: answer.status, said };
}
// A refusal stands at the top, and the page goes there: nobody looks for it below a button.
function tell(said) {
  $("message").textContent = said ? said.error.replace(/\.$/, "") + (said.do ? ": " + said.do : "") : "";
  if (said) window.scrollTo(0, 0);
}
const lost = { error: "no connection", do: "try again" };

if (document.body.dataset.page === "review") {
  $("review").addEventListener("submit", async (event) => {
    event.preventDefault();
    const body = { by: by.value.trim(), yes: [], answers: {} };
    for (const box of document.querySelectorAll("[data-code]")) if (box.checked) body.yes.push(box.dataset.code);
    for (const field of document.querySelectorAll("[data-ask]")) body.answers[field.dataset.ask] = field.value;
    try {
      const { ok, said } = await post("/review", body);
      if (ok) { sessionStorage.setItem("note", said.note); location.href = said.go; } else tell(said);
      const field = ok ? null : $("ask-" + said.error.split(":")[0]);
      if (field) field.focus();
    } catch { tell(lost); }
  });
} else run();

function run() {
  const store = "queue-" + batch;
  let queue = JSON.parse(localStorage.getItem(store) || "[]");
  const note = sessionStorage.getItem("note"); // of the review
  if (note) { tell({ error: note }); sessionStorage.removeItem("note"); }
  let state = null, sending = false, anyway = 0, pieces = 0, typed = "", asking = false, mode = "step", since = 0, wake = null, rung = 0, offline = false, ahead = [], deaf = 0;
  const result = { good: 0, rework: 0, reject: 0, causes: {}, loads: {}, shade: "", note: "", stock: true };

  const key = () => "page-" + Array.from(crypto.getRandomValues(new Uint8Array(12)), (b) => b.toString(16).padStart(2, "0")).join("");
  const entry = (what, more) => Object.assign({ key: key(), do: what }, more);

  // A second touch of a wet glove counts for nothing: after each touch the page is deaf.
  function hush(ms) {
    deaf = Date.now() + ms;
    $("go").setAttribute("aria-disabled", "true");
    setTimeout(() => { if (Date.now() >= deaf) $("go").removeAttribute("aria-disabled"); }, ms + 20);
  }
  const touch = (act, ms) => () => { if (Date.now() < deaf) return; hush(ms || 600); act(); };

  function keep(e, degrees) {
    queue.push({ entry: e, by: by.value.trim(), at_ms: Date.now(), degrees: degrees || "" });
    save();
    send();
  }
  function save() {
    localStorage.setItem(store, JSON.stringify(queue));
    $("held").hidden = queue.length === 0 && !offline;
    $("held").textContent = (queue.length > 0 ? "not sent yet: " + queue.length + "; " : "") + (offline ? "no connection, trying again" : "sending");
    $("where").hidden = offline;
  }
  async function send() {
    if (sending) return;
    sending = true;
    while (queue.length > 0) {
      try {
        const { ok, status, said } = await post("/entry", Object.assign({}, queue[0], { now_ms: Date.now() }));
        offline = false;
        if (status >= 500) { tell(said); save(); break; }
        queue.shift();
        if (ok) { tell(); take(said); } else tell(said);
      } catch { offline = true; save(); break; }
      save();
    }
    save();
    sending = false;
  }
  async function look() {
    if (queue.length > 0) { send(); return; }
    try {
      const answer = await fetch(base + "/state");
      if (answer.ok) { offline = false; if (queue.length === 0) take(await answer.json()); }
    } catch { offline = true; }
    save();
  }
  setInterval(look, 1000);
  window.addEventListener("online", look);

  function take(s) {
    const same = state && state.do === s.do && state.load === s.load && state.done === s.done && state.ready === s.ready;
    state = s;
    ahead = s.ahead || [];
    if (!same) { if (s.do !== "read") typed = ""; asking = false; pieces = s.pieces; if (mode === "list") mode = "step"; if (s.do === "result") result.good = s.pieces; }
    if (mode === "step" && s.open_ms && s.time_s && Date.now() - s.open_ms < s.time_s * 1000) { resume(); return; }
    if (mode === "step") { draw(); if (!same) window.scrollTo(0, 0); }
  }
  // While the connection is down the next step is the one that was reckoned before.
  function goOn() {
    if (!offline || ahead.length === 0) return;
    ahead.shift();
    const next = ahead[0];
    if (!next) { state = Object.assign({}, state, { do: "wait-for-connection", head: "ALL PLANNED LOADS ARE OUT", lines: ["waiting for the connection"] }); }
    else state = Object.assign({}, state, { plain: null, band: "" }, next, {
      wrong: "", open_ms: 0, first: null, others: [], next: "", ahead,
      lines: next.do === "act" ? next.lines : ["the time was calculated before the connection dropped"],
    });
    pieces = state.pieces;
    draw();
  }

  const beep = (times) => {
    try {
      beep.context = beep.context || new AudioContext();
      for (let i = 0; i < times; i++) {
        const tone = beep.context.createOscillator(), at = beep.context.currentTime + i * 0.25;
        tone.frequency.value = 880; tone.connect(beep.context.destination); tone.start(at); tone.stop(at + 0.15);
      }
    } catch { /* a bell is no safety device */ }
  };
  async function awake() {
    try { if (!wake || wake.released) wake = await navigator.wakeLock.request("screen"); } catch { /* not every browser has it */ }
  }
  document.addEventListener("visibilitychange", () => { if (!document.hidden) awake(); });

  const clock = (s) => s > 120 ? Math.floor(s / 60) + ":" + String(Math.floor(s % 60)).padStart(2, "0") : s + " s";
  function lines(texts) {
    $("lines").replaceChildren(...texts.filter(Boolean).map((text) => { const p = document.createElement("p"); p.textContent = text; return p; }));
  }
  function button(text, act, label) {
    const b = document.createElement("button");
    b.type = "button"; b.textContent = text; b.addEventListener("click", act);
    if (label) b.setAttribute("aria-label", label);
    return b;
  }
  function stepper(name, get, set) {
    const row = document.createElement("div"); row.className = "steppers";
    const label = document.createElement("span"); label.textContent = name;
    const shown = document.createElement("output"); shown.textContent = get(); shown.setAttribute("aria-label", name);
    const change = (by) => { set(Math.max(0, get() + by)); shown.textContent = get(); };
    row.append(label, button("-", () => change(-1), "one less: " + name), shown, button("+", () => change(1), "one more: " + name));
    return row;
  }
  function field(id, text, put, kind) {
    const label = document.createElement("label"), input = document.createElement("input");
    label.htmlFor = input.id = id; label.textContent = text + " "; input.type = kind || "text"; input.autocomplete = "off";
    input.addEventListener("change", () => put(input));
    return [label, input];
  }

  // What was typed stands large; nothing does before: an estimate is no reading.
  function drawDegrees() {
    $("figure").textContent = (typed || "\u2013") + " " + state.unit;
    $("go").textContent = typed ? "Use this reading" : "Type the reading";
  }
  // A load that is overdue, and not for long: most likely it is in still.
  const late = () => Boolean(state.open_ms) && state.do === "dip" && Date.now() - state.open_ms < 900000 && state.first.some((c) => c.ask === "clock");
  function draw() {
    if (!state) return;
    mode = "step";
    document.body.dataset.do = state.do;
    const over = state.do === "result", reading = (state.do === "read" || asking) && !state.ready, dip = state.do === "dip" && !reading, coat = state.do === "coat", go = $("go");
    const many = (dip || coat) && !state.ready && !state.open_ms;
    $("head").textContent = state.ready ? "NOT YET" : reading ? "READ THE TEMPERATURE" : state.head + (many ? ": " + pieces + (pieces === 1 ? " PIECE" : " PIECES") : "");
    $("figure").textContent = state.ready ? "" : dip && !state.open_ms || state.do === "wait" ? clock(state.time_s) : "";
    lines(state.ready ? [state.ready] : [state.wrong].concat(state.lines, [state.next]));
    $("where").textContent = state.where;
    $("bar").hidden = true;
    $("pieces").hidden = !many;
    $("pieces").replaceChildren(...(many ? [stepper("pieces", () => pieces, (n) => { pieces = Math.max(1, Math.min(n, state.made)); $("head").textContent = state.head + ": " + pieces + " PIECES"; })] : []));
    $("degrees").hidden = !reading;
    if ($("degrees").children.length === 0) {
      const push = (c) => { typed = c === "back" ? typed.slice(0, -1) : (typed + c).slice(0, 5); drawDegrees(); };
      $("degrees").replaceChildren(..."123456789".split("").map((c) => button(c, () => push(c))), button(".", () => push(".")), button("0", () => push("0")), button("\u2190", () => push("back"), "take back a digit"));
    }
    go.className = "go";
    go.hidden = state.do === "wait-for-connection" || Boolean(state.logged) || over;
    go.textContent = state.ready ? "To the review" : dip ? (late() ? "It comes out now" : state.open_ms ? "What happened" : state.wrong && anyway !== state.load ? "What to do about it" : "Start") : state.do === "wait" ? "Go on now" : "Done";
    if (reading) { go.className = "go short"; drawDegrees(); }
    $("choices").replaceChildren(...(asking ? [button("Go back", touch(() => { asking = false; typed = ""; draw(); }))] : []));
    $("more").hidden = asking || Boolean(state.logged) || Boolean(state.ready) || !state.others || state.others.length === 0;
    $("result").hidden = !over || Boolean(state.logged);
    if (over && !state.logged && $("result").children.length === 0) drawResult();
    if (state.logged) { $("head").textContent = "LOGGED"; lines([state.logged].concat(state.after || [])); }
  }

  function drawResult() {
    const form = $("result"), rows = ["good", "rework", "reject"].map((name) => stepper(name, () => result[name], (n) => {
      result[name] = n; tell();
      if (name !== "good") { result.good = Math.max(0, state.pieces - result.rework - result.reject); form.querySelector("output").textContent = result.good; }
    }));
    for (const name of state.causes || []) {
      const row = stepper("cause: " + name, () => result.causes[name] || 0, (n) => { result.causes[name] = n; tell(); });
      if (state.loads > 1) {
        const of = document.createElement("select");
        of.setAttribute("aria-label", "load of the pieces with the cause " + name);
        of.append(new Option("any load", ""), ...Array.from({ length: state.loads }, (_, i) => new Option("load " + (i + 1), i + 1)));
        of.addEventListener("change", () => { result.loads[name] = Number(of.value); });
        row.append(of);
      }
      rows.push(row);
    }
    rows.push(...field("shade", "Shade, as in blue-black", (f) => { result.shade = f.value.trim(); }), ...field("note", "Anything worth knowing next time", (f) => { result.note = f.value.trim(); }));
    const [label, photo] = field("photo", "A photo", async () => {
      try { const { ok, said } = await post("/photo?by=" + encodeURIComponent(by.value.trim()), photo.files[0], photo.files[0].type || "image/jpeg"); if (ok) label.textContent = "The photo is kept "; else tell(said); } catch { tell(lost); }
    }, "file");
    photo.accept = "image/*"; photo.capture = "environment";
    rows.push(label, photo);
    if (state.stock) {
      const [label, box] = field("stock", state.stock, () => { result.stock = box.checked; }, "checkbox");
      box.checked = true;
      rows.push(label, box);
    }
    const done = button("Log the batch", touch(async () => {
      const sum = result.good + result.rework + result.reject, bad = result.rework + result.reject;
      const why = Object.values(result.causes).reduce((a, b) => a + b, 0);
      const odd = sum !== state.pieces ? "the counts add up to " + sum + " pieces, and " + state.pieces + " were dipped" : why < bad ? bad - why + " of " + bad + " pieces that are not good have no cause" : "";
      if (odd && done.dataset.sure !== odd) { done.dataset.sure = odd; tell({ error: odd, do: "correct it, or log it again to keep it so" }); return; }
      try { const { ok, said } = await post("/result", Object.assign({ by: by.value.trim() }, result)); if (ok) { tell(); take(said); draw(); window.scrollTo(0, 0); } else tell(said); } catch { tell(lost); }
    }));
    done.className = "go";
    form.replaceChildren(...rows, done);
    form.addEventListener("submit", (event) => event.preventDefault());
  }

  function choose(list) {
    mode = "list";
    $("go").hidden = true;
    $("choices").replaceChildren(button("Go back", touch(draw)), ...list.map((c) => button(c.text, touch(() => picked(c)))));
    $("more").hidden = true;
    $("choices").firstChild.focus();
  }
  function picked(c) {
    if (c.ask === "temperature") { asking = true; typed = ""; draw(); return; }
    if (c.ask === "anyway") { anyway = state.load; draw(); return; }
    if (c.why) { choose(c.why); return; }
    if (c.ask === "clock") c = { entry: Object.assign({}, c.entry, { time_s: Math.round((Date.now() - state.open_ms) / 100) / 10 }) };
    if (c.entry) keep(c.entry);
    draw();
    if (c.entry && c.entry.do === "paused") {
      mode = "paused";
      $("head").textContent = "PAUSED"; $("figure").textContent = ""; $("go").hidden = false; $("go").textContent = "Go on";
      $("pieces").hidden = $("degrees").hidden = $("more").hidden = true;
      lines(["go on from here, at this tablet or another"]);
    }
  }

  $("more").addEventListener("click", touch(() => choose(late() ? state.first.filter((c) => c.ask !== "clock").concat(state.others) : state.others)));
  $("go").addEventListener("click", () => {
    awake();
    if (mode === "in") { if (Date.now() - since > 1000) { hush(1500); out(); } return; }
    touch(step)();
  });
  function step() {
    if (mode === "lead") { draw(); return; }
    if (mode === "paused") { draw(); return; }
    if (!state || queue.length > 0 && !offline) return;
    if (state.ready) { location.href = base + "/review"; return; }
    if (state.do === "read" || asking) {
      if (!typed) { tell({ error: "no temperature is typed", do: "type what the thermometer shows; to go on without one, choose What else" }); return; }
      keep(entry("read"), typed); typed = ""; asking = false;
      // Without a connection the load goes in by the time that was reckoned before.
      const next = offline && state.do === "read" && ahead.find((a) => a.do === "dip" && a.load === state.load);
      if (next) state = Object.assign({}, state, { do: "dip", pieces: next.pieces, time_s: next.time_s, wrong: "", others: [], head: "LOAD " + next.load + " OF " + state.of, lines: ["the temperature is kept here; the time was calculated before the connection dropped"] });
      draw();
      return;
    }
    if (state.do === "dip") {
      if (late()) { picked(state.first.find((c) => c.ask === "clock")); return; }
      if (state.open_ms) { choose(state.first); return; }
      if (state.wrong && anyway !== state.load) { choose(state.first); return; }
      hush(1000);
      lead();
      return;
    }
    if (state.plain) { keep(Object.assign({}, state.plain, state.do === "coat" ? { pieces } : {})); if (offline) goOn(); }
  }

  function lead() {
    mode = "lead"; since = Date.now(); rung = 0; beep(1); tell();
    $("head").textContent = "LOAD " + state.load + ": GET READY"; lines(["the count runs from the first piece in"]);
    $("go").textContent = "Not yet"; $("more").hidden = $("pieces").hidden = true;
  }
  function counting() {
    mode = "in"; rung = 0;
    $("head").textContent = "LOAD " + state.load + " IS IN"; lines([state.band, state.next]);
    $("bar").hidden = $("go").hidden = false; $("go").className = "go"; $("go").textContent = "Out"; $("choices").replaceChildren();
    $("more").hidden = $("pieces").hidden = $("degrees").hidden = true;
  }
  // A load that is in, and whose time is not over, is counted on: at this tablet or another.
  function resume() { since = state.open_ms; pieces = state.pieces; counting(); }
  function into() {
    since = Date.now(); beep(1);
    counting();
    keep(entry("in", Object.assign({ load: state.load, pieces }, state.time_s ? { time_s: state.time_s } : {})));
  }
  function out(note) {
    const seconds = note ? state.time_s : Math.round((Date.now() - since) / 100) / 10;
    mode = "step"; beep(1);
    keep(entry("out", Object.assign({ load: state.load, pieces, time_s: seconds }, note ? { note } : {})));
    if (offline) goOn(); else draw();
  }
  setInterval(() => {
    if (mode === "lead") {
      const left = Math.ceil(3 - (Date.now() - since) / 1000);
      $("figure").textContent = Math.max(left, 0);
      if (left <= 0) into();
    } else if (mode === "in") {
      const gone = (Date.now() - since) / 1000, left = state.time_s - gone;
      $("figure").textContent = state.time_s ? left >= 0 ? clock(Math.ceil(left)) : "+" + Math.floor(-left) + " s" : clock(Math.floor(gone));
      $("bar").value = state.time_s ? Math.min(gone / state.time_s, 1) : 0;
      if (state.time_s && left <= 3 && rung < 1 && state.time_s > 6) { rung = 1; beep(1); $("head").textContent = "READY TO LIFT"; }
      if (state.time_s && left <= 0 && rung < 2) { rung = 2; beep(3); $("head").textContent = "OUT NOW"; $("go").className = "go out"; }
      if (state.time_s && left < -20) out("no touch at the end: the planned time");
    } else if (mode === "step" && state && state.open_ms) {
      $("figure").textContent = clock(Math.max(0, Math.floor((Date.now() - state.open_ms) / 1000)));
    }
  }, 100);
  save();
  look();
}
