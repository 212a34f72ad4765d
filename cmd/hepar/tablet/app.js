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
const tell = (said) => { $("message").textContent = said ? said.error + (said.do ? ": " + said.do : "") : ""; };

if (document.body.dataset.page === "review") {
  $("review").addEventListener("submit", async (event) => {
    event.preventDefault();
    const body = { by: by.value.trim(), yes: [], answers: {} };
    for (const box of document.querySelectorAll("[data-code]")) if (box.checked) body.yes.push(box.dataset.code);
    for (const field of document.querySelectorAll("[data-ask]")) body.answers[field.dataset.ask] = field.value;
    try {
      const { ok, said } = await post("/review", body);
      if (ok) location.href = said.go; else tell(said);
    } catch { tell({ error: "no connection", do: "try again" }); }
  });
} else run();

function run() {
  const store = "queue-" + batch;
  let queue = JSON.parse(localStorage.getItem(store) || "[]");
  let state = null, sending = false, anyway = 0, pieces = 0, typed = "", mode = "step", since = 0, wake = null, rung = 0, offline = false, ahead = [];
  const result = { good: 0, rework: 0, reject: 0, causes: {} };

  const key = () => "page-" + Array.from(crypto.getRandomValues(new Uint8Array(12)), (b) => b.toString(16).padStart(2, "0")).join("");
  const entry = (what, more) => Object.assign({ key: key(), do: what }, more);

  function keep(e, degrees) {
    queue.push({ entry: e, by: by.value.trim(), at_ms: Date.now(), degrees: degrees || "" });
    save();
    send();
  }
  function save() {
    localStorage.setItem(store, JSON.stringify(queue));
    $("held").hidden = queue.length === 0;
    $("held").textContent = "not sent yet: " + queue.length + (offline ? "; no connection, trying again" : "");
  }
  async function send() {
    if (sending) return;
    sending = true;
    while (queue.length > 0) {
      try {
        const { ok, status, said } = await post("/entry", Object.assign({}, queue[0], { now_ms: Date.now() }));
        offline = false;
        if (status === 503 || status >= 500) { tell(said); save(); break; }
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
    const same = state && state.do === s.do && state.load === s.load && state.done === s.done;
    state = s;
    ahead = s.ahead.slice();
    if (!same) { typed = ""; pieces = s.pieces; if (mode !== "in" && mode !== "lead") mode = "step"; if (s.do === "result") result.good = s.pieces; }
    if (mode === "step" || mode === "list" && !same) draw();
  }
  // While the connection is down the next step is the one that was planned.
  function goOn() {
    if (!offline || ahead.length === 0) return;
    const done = ahead.shift(), next = ahead[0];
    if (!next) { state = Object.assign({}, state, { do: "wait-for-connection", head: "ALL PLANNED LOADS ARE OUT", lines: ["waiting for the connection"] }); }
    else state = Object.assign({}, state, {
      do: next.do, load: next.load, pieces: next.pieces || 0, time_s: next.time_s || 0, wrong: "", open_ms: 0, opened: null, cures: null, others: [], next: "", ahead,
      head: next.do === "act" ? "BEFORE LOAD " + next.load : "LOAD " + next.load + " OF " + state.of, lines: next.say ? [next.say] : ["as planned: no connection"],
      plain: next.do === "act" ? entry("acted", { action: next.action, event: next.event }) : null,
    });
    pieces = state.pieces;
    void done;
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

  const clock = (s) => s > 120 ? Math.floor(s / 60) + ":" + String(Math.floor(s % 60)).padStart(2, "0") : String(s);
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

  function draw() {
    if (!state) return;
    mode = "step";
    const reading = state.do === "read", dip = state.do === "dip", coat = state.do === "coat", over = state.do === "result";
    $("head").textContent = state.head + (dip || coat ? ": " + pieces + (pieces === 1 ? " PIECE" : " PIECES") : "");
    $("figure").textContent = reading ? (typed || String(state.degrees)) + " " + state.unit : dip || state.do === "wait" ? clock(state.time_s) + (state.time_s > 120 ? "" : " s") : "";
    lines([state.ready, state.wrong].concat(state.lines, [state.next]));
    $("where").textContent = state.where;
    $("bar").hidden = true;
    $("pieces").hidden = !(dip || coat) || state.open_ms > 0;
    $("pieces").replaceChildren(...((dip || coat) && !state.open_ms ? [stepper("pieces", () => pieces, (n) => { pieces = Math.max(1, Math.min(n, state.made)); $("head").textContent = state.head + ": " + pieces + " PIECES"; })] : []));
    $("degrees").hidden = !reading;
    if (reading && $("degrees").children.length === 0) {
      const push = (c) => { typed = c === "back" ? typed.slice(0, -1) : (typed + c).slice(0, 5); $("figure").textContent = (typed || String(state.degrees)) + " " + state.unit; };
      $("degrees").replaceChildren(..."123456789".split("").map((c) => button(c, () => push(c))), button(".", () => push(".")), button("0", () => push("0")), button("\u2190", () => push("back"), "take back a digit"));
    }
    const go = $("go");
    go.className = "go";
    go.hidden = state.do === "wait-for-connection" || Boolean(state.logged) || over;
    go.textContent = state.ready ? "To the review" : reading ? "This is the temperature" : dip ? (state.open_ms ? "What became of it" : state.wrong && anyway !== state.load ? "What to do about it" : "Start") : state.do === "wait" ? "Go on now" : "Done";
    $("choices").replaceChildren();
    $("more").hidden = over || !state.others || state.others.length === 0;
    $("result").hidden = !over || Boolean(state.logged);
    if (over && !state.logged && $("result").children.length === 0) drawResult();
    if (state.logged) { $("head").textContent = "LOGGED"; lines([state.logged].concat(state.after || [])); }
  }

  function drawResult() {
    const form = $("result"), rows = ["good", "rework", "reject"].map((name) => stepper(name, () => result[name], (n) => { result[name] = n; }));
    for (const name of state.causes || []) rows.push(stepper("cause: " + name, () => result.causes[name] || 0, (n) => { result.causes[name] = n; }));
    const label = document.createElement("label"); label.htmlFor = "photo"; label.textContent = "A photograph ";
    const photo = document.createElement("input"); photo.type = "file"; photo.id = "photo"; photo.accept = "image/*"; photo.capture = "environment";
    photo.addEventListener("change", async () => {
      try { const { ok, said } = await post("/photo", photo.files[0], photo.files[0].type || "image/jpeg"); if (ok) label.textContent = "The photograph is kept "; else tell(said); } catch { tell({ error: "no connection", do: "try again" }); }
    });
    const done = button("Log the batch", async () => {
      const sum = result.good + result.rework + result.reject;
      if (sum !== state.pieces && !done.dataset.sure) { done.dataset.sure = "yes"; tell({ error: "these are " + sum + " pieces and " + state.pieces + " were dipped", do: "count again, or press once more to leave it so" }); return; }
      try { const { ok, said } = await post("/result", { by: by.value.trim(), good: result.good, rework: result.rework, reject: result.reject, causes: result.causes, note: "" }); if (ok) { tell(); take(said); draw(); } else tell(said); } catch { tell({ error: "no connection", do: "try again" }); }
    });
    done.className = "go";
    form.replaceChildren(...rows, label, photo, done);
    form.addEventListener("submit", (event) => event.preventDefault());
  }

  function choose(list) {
    mode = "list";
    $("choices").replaceChildren(button("Go back", draw), ...list.map((c) => button(c.text, () => picked(c))));
    $("more").hidden = true;
    $("choices").firstChild.focus();
  }
  function picked(c) {
    if (c.ask === "temperature") { state = Object.assign({}, state, { do: "read", head: "READ THE TEMPERATURE" }); draw(); return; }
    if (c.ask === "anyway") { anyway = state.load; draw(); return; }
    if (c.ask === "why") { choose(state.reasons.map((why) => ({ text: why, entry: Object.assign({}, c.entry, { note: why }) }))); return; }
    mode = "step";
    if (c.entry) keep(c.entry);
    draw();
  }

  $("more").addEventListener("click", () => choose(state.others));
  $("go").addEventListener("click", () => {
    awake();
    if (mode === "in") { if (Date.now() - since > 1000) out(); return; }
    if (mode === "lead") { mode = "step"; draw(); return; }
    if (!state || queue.length > 0 && !offline) return;
    if (state.ready) { location.href = base + "/review"; return; }
    if (state.do === "read") { keep(entry("read"), typed || String(state.degrees)); typed = ""; return; }
    if (state.do === "dip") {
      if (state.open_ms) { choose(state.opened); return; }
      if (state.wrong && anyway !== state.load) { choose(state.cures); return; }
      lead();
      return;
    }
    if (state.plain) { keep(Object.assign({}, state.plain, state.do === "coat" ? { pieces } : {})); if (offline) goOn(); }
  });

  function lead() {
    mode = "lead"; since = Date.now(); rung = 0; beep(1);
    $("head").textContent = "LOAD " + state.load + ": GET READY"; lines(["the count runs from the first piece in"]);
    $("go").textContent = "Not yet"; $("more").hidden = $("pieces").hidden = true;
  }
  function into() {
    mode = "in"; since = Date.now(); beep(1);
    $("head").textContent = "LOAD " + state.load + " IS IN"; lines([state.next]);
    $("bar").hidden = false; $("go").textContent = "Out"; $("choices").replaceChildren();
    keep(entry("in", { load: state.load, pieces }));
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
      $("figure").textContent = state.time_s ? left >= 0 ? clock(Math.ceil(left)) : "+" + Math.floor(-left) : Math.floor(gone);
      $("bar").value = state.time_s ? Math.min(gone / state.time_s, 1) : 0;
      if (state.time_s && left <= 3 && rung < 1 && state.time_s > 6) { rung = 1; beep(1); $("head").textContent = "READY TO LIFT"; }
      if (state.time_s && left <= 0 && rung < 2) { rung = 2; beep(3); $("head").textContent = "OUT NOW"; $("go").className = "go out"; }
      if (state.time_s && left < -20) out("no touch at out: the planned time");
    }
  }, 100);
  save();
  look();
}
