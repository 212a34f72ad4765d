"use strict";
// One page, one run. What happens is an entry with a key; entries wait in the page while the
// connection is down and are sent once, in order. The page counts by its own clock.
const $ = (id) => document.getElementById(id);
const batch = document.body.dataset.batch;
const at = (number) => "/batch/" + encodeURIComponent(number), base = at(batch);
const by = $("by");
if (by) {
  by.value = localStorage.getItem("by") || by.value;
  by.addEventListener("change", () => localStorage.setItem("by", by.value.trim()));
}

async function post(path, body, kind, to) {
  const answer = await fetch((to || base) + path, { method: "POST", headers: { "Content-Type": kind || "application/json" }, body: kind ? body : JSON.stringify(body), signal: AbortSignal.timeout(kind ? 60000 : 5000) });
  if (answer.status === 401) return { ok: false, kept: true, said: unpaired };
  try { return { ok: answer.ok, status: answer.status, kept: answer.status >= 500, said: await answer.json() }; } catch (e) {
    if (e.name !== "SyntaxError") throw e;
    return { ok: false, kept: true, said: { error: "the answer cannot be read", do: "it is tried again; what was tapped is kept" } };
  }
}
const unpaired = { error: "this tablet is no longer paired: hepar bench was started again", do: "what was tapped is kept here and sent once it is paired. ", link: "/pair" };
// A command of the computer is no help on a tablet.
const here = (what) => what.replace(/hepar review \S+/, "open Review above").replace("at the computer: say who is at the bath: --by NAME", "type your name below");
// A refusal stands at the top, and the page goes there: nobody looks for it below a button.
function tell(said) {
  const text = said ? JSON.stringify(said) : "";
  if ($("message").dataset.said === text) return;
  $("message").dataset.said = text;
  $("message").textContent = said ? said.error.replace(/[.?]$/, (c) => c === "?" ? c : "") + (said.do ? ": " + here(said.do) : "") : "";
  if (said && said.link) {
    const a = document.createElement("a");
    a.href = said.link; a.textContent = "Pair again";
    $("message").append(a);
  }
  if (said) window.scrollTo(0, 0);
}
const lost = { error: "no connection", do: "try again" };

if (document.body.dataset.page === "review") {
  // What was typed outlasts a reload of the day; what must be confirmed is confirmed anew.
  const store = "review-" + batch, fields = [...document.querySelectorAll("[data-ask]")], today = new Date().toDateString();
  const kept = JSON.parse(localStorage.getItem(store) || "{}");
  for (const field of fields) {
    if (kept.day === today && !field.value) field.value = kept[field.dataset.ask] || "";
    field.addEventListener("change", () => {
      field.removeAttribute("aria-invalid");
      localStorage.setItem(store, JSON.stringify(Object.assign({ day: today }, ...fields.map((f) => ({ [f.dataset.ask]: f.value })))));
    });
  }
  const wrong = (list) => {
    for (const field of [...fields, ...document.querySelectorAll("[data-code]"), by]) field.removeAttribute("aria-invalid");
    const at = list.map((w) => $("ask-" + w.field) || $("yes-" + w.field) || $(w.field)).filter(Boolean);
    for (const field of at) field.setAttribute("aria-invalid", "true");
    $("message").replaceChildren(...list.map((w) => { const p = document.createElement("p"); p.textContent = w.text; return p; }));
    $("message").dataset.said = "list";
    window.scrollTo(0, 0);
    if (at.length > 0) at[0].focus({ preventScroll: true });
  };
  $("review").addEventListener("submit", async (event) => {
    event.preventDefault();
    const body = { by: by.value.trim(), yes: [], answers: {} };
    for (const box of document.querySelectorAll("[data-code]")) if (box.checked) body.yes.push(box.dataset.code);
    for (const field of fields) body.answers[field.dataset.ask] = field.value;
    try {
      const { ok, said } = await post("/review", body);
      if (ok) { sessionStorage.setItem("note", said.note); location.href = said.go; } else if (said.list) wrong(said.list); else tell(said);
    } catch { tell(lost); }
  });
} else if (document.body.dataset.page === "list") unsent(); else run();

// What a batch could not send is sent from the list as well, in order. What is refused stays for the
// page of the batch, which says what to do about it.
async function unsent(why = "sending") {
  const kept = (name) => JSON.parse(localStorage.getItem(name) || "[]"), refused = new Set();
  const names = () => Object.keys(localStorage).filter((name) => name.startsWith("queue-") && kept(name).length > 0).sort();
  const say = () => {
    $("held").hidden = names().length === 0;
    $("held").replaceChildren(...names().map((name) => {
      const p = document.createElement("p"), n = kept(name).length, number = name.slice("queue-".length);
      p.textContent = n + (n === 1 ? " entry" : " entries") + " of batch " + number + (n === 1 ? " is" : " are") + " not sent yet: " + (refused.has(name) ? "open batch " + number : why);
      return p;
    }));
  };
  say();
  let some = false;
  for (const name of names()) {
    for (let queue = kept(name); queue.length > 0; queue = kept(name)) {
      try {
        const first = queue[0], answer = await post("/entry", Object.assign({}, first, { now_ms: Date.now() }), "", at(name.slice("queue-".length)));
        if (answer.kept) { why = "trying again"; tell(answer.said); break; }
        if (!answer.ok) { refused.add(name); break; }
        localStorage.setItem(name, JSON.stringify(kept(name).filter((e) => e.entry.key !== first.entry.key)));
        some = true;
      } catch { why = "no connection, trying again"; break; }
    }
  }
  if (some) location.reload(); // the list counts them now
  say();
  if (names().some((name) => !refused.has(name))) setTimeout(unsent, 2000, why);
}

function run() {
  const note = sessionStorage.getItem("note"); // of the review
  if (note) { tell({ error: note }); sessionStorage.removeItem("note"); }
  const store = "queue-" + batch;
  let queue = JSON.parse(localStorage.getItem(store) || "[]");
  // mode is what stands on the page: step, lead (get ready), in (a load is in: load says which), sent
  // (an entry is on its way), list (a choice), read (lines to do first), paused.
  let state = null, load = null, mode = "", sending = false, looking = false, told = 0, anyway = 0, pieces = 0, typed = "", asking = false, since = 0, wake = null, offline = false, ahead = [], deaf = 0, doubted = null, chosen = null, counted = false, opened = 0;
  const result = { good: 0, rework: 0, reject: 0, causes: {}, loads: {}, shade: "", note: "", stock: true };

  const key = () => "page-" + Array.from(crypto.getRandomValues(new Uint8Array(12)), (b) => b.toString(16).padStart(2, "0")).join("");
  const entry = (what, more) => Object.assign({ key: key(), do: what }, more);

  // A second touch of a wet glove counts for nothing: after each touch the page is deaf.
  const hears = () => Date.now() >= deaf && mode !== "sent";
  function hear() {
    for (const b of [$("go"), ...$("choices").children]) if (hears()) b.removeAttribute("aria-disabled"); else b.setAttribute("aria-disabled", "true");
  }
  function hush(ms) { deaf = Math.max(deaf, Date.now() + ms); hear(); }
  const touch = (act, ms) => () => { if (!hears()) return; hush(ms || 600); act(); };

  // What was tapped is kept until hepar has it. No state that was asked for before it is shown.
  function keep(e, more) {
    told++;
    queue.push(Object.assign({ entry: e, by: by.value.trim(), at_ms: Date.now(), degrees: "" }, more));
    save();
    send();
  }
  let lost_at = "", reason = "";
  function lose(why) {
    reason = why || "no connection";
    if (!offline) lost_at = new Date().toTimeString().slice(0, 8);
    offline = true;
  }
  function save() {
    localStorage.setItem(store, JSON.stringify(queue));
    $("held").hidden = queue.length === 0 && !offline;
    $("held").textContent = (queue.length > 0 ? "not sent yet: " + queue.length + "; " : "") + (offline ? reason + " since " + lost_at + ", trying again" : "sending");
    $("where").hidden = offline || mode === "in";
  }
  async function send() {
    if (sending) return;
    sending = true;
    while (queue.length > 0) {
      try {
        const first = queue[0], { ok, status, kept, said } = await post("/entry", Object.assign({}, first, { now_ms: Date.now() }));
        if (kept) { lose(said === unpaired ? "not paired" : "not taken"); tell(said); save(); goOn(); break; }
        offline = false;
        queue.shift();
        told++;
        if (ok) { tell(); if (queue.length === 0) take(said); } else { refused(first, status, said); }
      } catch { lose(); save(); goOn(); break; }
      save();
    }
    save();
    sending = false;
  }
  // What was refused is said, and the page goes back to what the journal has. A reading that is doubted
  // is asked for again once no load is in.
  function refused(first, status, said) {
    const what = first.entry.do;
    if (what === "in" && status === 403 && load && load.undo === first.entry.key) load.refused = Object.assign({ said }, first); // the pieces are in the bath all the same
    const still = what === "out" && mode === "sent" && load && load.refused;
    tell(); // or the same once more would be passed over
    if (status === 409) doubted = { first, said }; else tell(still ? still.said : said);
    if (still) counting();
    else if (mode === "sent") { mode = ""; if (status === 409) draw(); }
    look();
  }
  function doubt() {
    const { first, said } = doubted, done = (act) => () => { doubted = null; act(); };
    choose([
      { text: "It is right: write it down", act: done(() => { keep(first.entry, { at_ms: first.at_ms, degrees: first.degrees, sure: true }); sent("READING KEPT"); }) },
      { text: "No: read it again", act: done(() => { asking = true; typed = ""; draw(); }) },
    ], "IS THE READING RIGHT?", [said.error], true);
  }
  async function look() {
    if (queue.length > 0) { send(); return; }
    if (looking) return;
    looking = true;
    const asked = told;
    try {
      const answer = await fetch(base + "/state", { signal: AbortSignal.timeout(5000) });
      if (answer.status === 401) tell(unpaired);
      if (answer.ok) {
        const said = await answer.json();
        if ($("message").querySelector("a")) tell();
        offline = false;
        if (asked === told && queue.length === 0) take(said);
      }
    } catch { lose(); }
    looking = false;
    save();
  }
  setInterval(look, 1000);
  window.addEventListener("online", look);

  function take(s) {
    if (state && state.ready && !s.ready && !s.logged) { location.reload(); return; } // who reviewed it stands in the page
    const same = state && state.do === s.do && state.load === s.load && state.done === s.done && state.ready === s.ready;
    state = s;
    ahead = s.ahead || [];
    if (!same) { if (s.do !== "read") typed = ""; asking = false; pieces = s.pieces; if (mode === "list" || mode === "read") mode = ""; if (s.do === "result") recall(); }
    const open = s.do === "dip" && s.open_ms;
    texts("stand", s.stand || []);
    $("where").textContent = s.where;
    if (mode === "lead" && !open) return;
    if (mode === "in") { // as it went in here, or until another hand writes it out
      if (open && s.load === load.number) { load.known = true; if (s.first && !load.undo) load.undo = undoes(s); return; }
      if (!load.known) return;
    } else if (open && ["", "step", "sent", "lead"].includes(mode)) { resume(); return; }
    if (mode === "list" || mode === "read" || mode === "paused" || doubted) return;
    draw();
    if (!same) window.scrollTo(0, 0);
  }
  const undoes = (s) => { const c = s.first.find((c) => c.entry && c.entry.do === "undone"); return c ? c.entry.undoes : ""; };
  // What was tapped stands on the page until the answer is there.
  function sent(head, texts) {
    mode = "sent"; hear();
    if (head) $("head").textContent = head;
    if (head) { $("figure").textContent = ""; window.scrollTo(0, 0); }
    lines(texts || []);
    $("go").className = "go"; $("go").hidden = false; $("go").textContent = "One moment";
    $("choices").replaceChildren();
    $("bar").hidden = $("more").hidden = $("pieces").hidden = $("degrees").hidden = true;
    if (offline) goOn();
  }
  // While the connection is down the next step is the one that was calculated before.
  function goOn() {
    if (!offline || mode !== "sent") return;
    const last = queue.length > 0 ? queue[queue.length - 1].entry : null;
    if (!last || !state) return;
    const rinse = last.do === "out" ? "rinse load " + last.load + " at once" : "", planned = ahead.length > 0;
    if (["out", "mixed", "acted", "skipped"].includes(last.do)) ahead.shift();
    let note = "no connection: the time was calculated before it dropped at " + lost_at + "; the bath may have cooled since";
    if (last.do === "read" && ahead[0] && ahead[0].do === "dip") {
      const degrees = queue[queue.length - 1].degrees, time = timeAt(ahead[0].times || [], degrees);
      if (time) ahead[0] = Object.assign({}, ahead[0], { time_s: time, band: (ahead[0].band || "").split("; ").slice(1).join("; ") });
      note = time ? "no connection: the time is calculated here from the reading of " + degrees + " " + state.unit : "no connection: no time is known here for " + degrees + " " + state.unit + "; wait for the connection, or go by the colour";
    }
    const next = ["again", "stopped"].includes(last.do) || last.do === "undone" && !(load && load.undo === last.undoes) ? null : ahead[0];
    if (next) state = Object.assign({}, state, { plain: null }, next, {
      wrong: "", open_ms: 0, first: null, next: "", ahead, others: [{ text: "read the temperature", ask: "temperature" }],
      lines: [rinse].concat(next.do === "act" ? next.lines : [next.band, note]),
    });
    else state = Object.assign({}, state, { do: "wait-for-connection", head: last.do === "out" && planned ? "ALL PLANNED LOADS ARE OUT" : "KEPT HERE", others: [], open_ms: 0, wrong: "", lines: [rinse, "waiting for the connection"], next: "" });
    pieces = state.pieces;
    draw();
  }
  // timeAt is the dip at a reading, between the pairs that came with the state; 0 where it lies outside.
  function timeAt(pairs, degrees) {
    const typed = Number(degrees.replace(",", ".")), c = state.unit === "F" ? (typed - 32) / 1.8 : typed;
    for (let i = 1; i < pairs.length; i++) {
      const [high, short] = pairs[i - 1], [low, long] = pairs[i];
      if (c <= high && c >= low) return Math.round(short + (long - short) * (high - c) / (high - low));
    }
    return 0;
  }
  function pause() {
    mode = "paused"; hear();
    $("head").textContent = "PAUSED"; $("figure").textContent = ""; $("go").className = "go"; $("go").hidden = false; $("go").textContent = "Go on";
    $("choices").replaceChildren();
    $("pieces").hidden = $("degrees").hidden = $("more").hidden = $("bar").hidden = true;
    lines(["go on from here, at this tablet or another"]);
  }

  const beep = (times) => {
    try {
      beep.context = beep.context || new AudioContext();
      tone();
      for (let i = 0; i < times; i++) {
        const tone = beep.context.createOscillator(), at = beep.context.currentTime + i * 0.25;
        tone.frequency.value = 880; tone.connect(beep.context.destination); tone.start(at); tone.stop(at + 0.15);
      }
    } catch { /* a bell is no safety device */ }
  };
  // After a reload a browser plays nothing until the page is touched.
  function tone() {
    if (!beep.context) try { beep.context = new AudioContext(); } catch { return; }
    $("tone").hidden = beep.context.state === "running";
  }
  document.addEventListener("pointerdown", () => { tone(); if (beep.context) beep.context.resume().then(tone, () => {}); });
  async function awake() {
    try { if (!wake || wake.released) wake = await navigator.wakeLock.request("screen"); } catch { /* not every browser has it */ }
  }
  document.addEventListener("visibilitychange", () => { if (!document.hidden) awake(); });

  const clock = (s) => s > 120 ? Math.floor(s / 60) + ":" + String(Math.floor(s % 60)).padStart(2, "0") : s + " s";
  // What could kill, what is poured and what cannot wait look like it.
  function texts(id, list) {
    $(id).replaceChildren(...list.filter(Boolean).map((text) => {
      const p = document.createElement("p");
      p.textContent = text.replace(/^! /, "");
      p.className = /^! |^[^a-z]+$|^DISCARD/.test(text) ? "caution" : /^\d+\. /.test(text) ? "pour" : /^rinse load \d+ at once$/.test(text) ? "now" : "";
      return p;
    }));
  }
  const lines = (list) => texts("lines", list);
  function button(text, act, label) {
    const b = document.createElement("button");
    b.type = "button"; b.textContent = text; b.addEventListener("click", act);
    if (label) b.setAttribute("aria-label", label);
    return b;
  }
  function stepper(name, get, set) {
    const row = document.createElement("div"); row.className = "steppers";
    const label = document.createElement("span"); label.textContent = name;
    const shown = document.createElement("input"); shown.inputMode = "numeric"; shown.autocomplete = "off"; shown.setAttribute("aria-label", name);
    shown.show = () => { shown.value = get(); };
    const change = (n) => { set(Math.max(0, n)); shown.show(); };
    const more = (by) => () => { if (Date.now() >= deaf) change(get() + by); };
    shown.addEventListener("change", () => { const n = Number(shown.value.trim()); change(Number.isInteger(n) && shown.value.trim() ? n : get()); });
    shown.addEventListener("focus", () => shown.select());
    shown.show();
    row.append(label, button("\u2212", more(-1), "one less: " + name), shown, button("+", more(1), "one more: " + name));
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
  const heads = { cold: "THE BATH IS TOO COLD", hot: "THE BATH IS TOO HOT", long: "THE BATH IS TOO COLD OR TOO WEAK" };
  function draw() {
    if (!state) return;
    if (doubted) { doubt(); return; }
    if (state.do === "dip" && state.open_ms) { resume(); return; }
    mode = "step"; hear();
    document.body.dataset.do = state.do;
    const over = state.do === "result", reading = (state.do === "read" || asking) && !state.ready, dip = state.do === "dip" && !reading, coat = state.do === "coat", go = $("go");
    // Where the bath does not do, that stands large, and the load in small.
    const wrong = dip && !state.ready && state.wrong && anyway !== state.load, many = (dip || coat) && !state.ready && !wrong;
    const count = ": " + pieces + (pieces === 1 ? " piece" : " pieces");
    $("head").textContent = state.ready ? "NOT YET" : reading ? "READ THE TEMPERATURE" : wrong ? heads[state.kind] : state.head + (many ? count.toUpperCase() : "");
    $("figure").textContent = state.ready || wrong ? "" : dip || state.do === "wait" ? clock(state.time_s) : "";
    lines(state.ready ? [state.ready] : reading && asking ? ["type what the thermometer shows"] : [state.wrong, wrong && state.head.toLowerCase() + count + (state.time_s ? ", " + clock(state.time_s) : "")].concat(state.lines, [state.next]));
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
    go.textContent = state.ready ? "To the review" : dip ? (wrong ? "What to do about it" : "Start") : state.do === "wait" ? "Go on now" : "Done";
    if (reading) { go.className = "go short"; drawDegrees(); }
    $("choices").replaceChildren(...(asking ? [button("Go back", touch(() => { asking = false; typed = ""; draw(); }))] : []));
    $("more").hidden = asking || Boolean(state.logged) || Boolean(state.ready) || !state.others || state.others.length === 0;
    $("result").hidden = !over || Boolean(state.logged);
    if (over && !state.logged && $("result").children.length === 0) drawResult();
    $("waste").hidden = !state.waste;
    if (state.logged) {
      $("head").textContent = "LOGGED";
      lines([state.logged].concat((state.after || []).filter((what) => !state.waste || !what.includes("journal waste")).map((what) => "at the computer: " + what)));
      if (state.waste && !$("container").value) { $("container").value = state.drum; $("volume").value = state.waste; }
    }
  }

  // What was counted outlasts a reload; whether it is right is asked anew.
  const counts = "result-" + batch;
  function recall() {
    const kept = JSON.parse(localStorage.getItem(counts) || "{}");
    Object.assign(result, { good: state.pieces, counted: false }, kept.of === state.pieces ? kept : {});
    $("result").replaceChildren();
  }
  function remember() {
    tell();
    result.counted = true;
    localStorage.setItem(counts, JSON.stringify(Object.assign({ of: state.pieces }, result)));
  }
  function drawResult() {
    const form = $("result"), rows = ["good", "rework", "reject"].map((name) => stepper(name, () => result[name], (n) => {
      result[name] = n;
      if (name !== "good") { result.good = Math.max(0, state.pieces - result.rework - result.reject); form.querySelector("input").show(); }
      remember();
    }));
    for (const name of state.causes || []) {
      const words = name.replaceAll("-", " ");
      const row = stepper("cause: " + words, () => result.causes[name] || 0, (n) => { result.causes[name] = n; remember(); });
      if (state.loads > 1) {
        const of = document.createElement("select");
        of.setAttribute("aria-label", "load of the pieces with the cause " + words);
        of.append(new Option("any load", ""), ...Array.from({ length: state.loads }, (_, i) => new Option("load " + (i + 1), i + 1)));
        of.value = result.loads[name] || "";
        of.addEventListener("change", () => { result.loads[name] = Number(of.value); remember(); });
        row.append(of);
      }
      rows.push(row);
    }
    for (const [name, text] of [["shade", "Shade, as in blue-black"], ["note", "Anything worth knowing next time"]]) {
      const [label, input] = field(name, text, (f) => { result[name] = f.value.trim(); remember(); });
      input.value = result[name];
      rows.push(label, input);
    }
    const [label, photo] = field("photo", "A photo", async () => {
      try { const { ok, said } = await post("/photo?by=" + encodeURIComponent(by.value.trim()), photo.files[0], photo.files[0].type || "image/jpeg"); if (ok) label.textContent = "The photo is kept "; else tell(said); } catch { tell(lost); }
    }, "file");
    photo.accept = "image/*"; photo.capture = "environment";
    rows.push(label, photo);
    if (state.stock) {
      const [label, box] = field("stock", "Take off the shelf: " + state.stock, () => { result.stock = box.checked; }, "checkbox");
      box.checked = result.stock;
      rows.push(label, box);
    }
    const done = button("Log the batch", touch(async () => {
      const sum = result.good + result.rework + result.reject, bad = result.rework + result.reject;
      const why = Object.values(result.causes).reduce((a, b) => a + b, 0);
      const odd = sum !== state.pieces ? "the counts add up to " + sum + " pieces, and " + state.pieces + " were dipped" : why < bad ? bad - why + " of " + bad + " pieces that are not good have no cause" : result.counted ? "" : "all " + sum + " pieces stand as good and nobody has counted them here";
      if (odd && done.dataset.sure !== odd) { done.dataset.sure = odd; tell({ error: odd, do: "correct it, or log it again to keep it so" }); return; }
      const { good, rework, reject, causes, loads, shade, note, stock } = result;
      try {
        const { ok, said } = await post("/result", { by: by.value.trim(), good, rework, reject, causes, loads, shade, note, stock });
        if (ok) { localStorage.removeItem(counts); tell(); told++; take(said); draw(); window.scrollTo(0, 0); } else tell(said);
      } catch { tell(lost); }
    }));
    done.className = "go";
    form.replaceChildren(...rows, done);
    form.addEventListener("submit", (event) => event.preventDefault());
  }

  function choose(list, head, texts, alone) {
    counted = mode === "in" || mode === "list" && counted; opened = Date.now();
    mode = "list"; hear();
    if (head) $("head").textContent = head;
    if (texts) { $("figure").textContent = ""; lines(texts); }
    $("go").hidden = $("more").hidden = $("pieces").hidden = $("degrees").hidden = true;
    const back = button("Go back", touch(() => { if (counted) counting(); else draw(); }));
    $("choices").replaceChildren(...(alone ? [] : [back]), ...list.map((c) => button(c.text, touch(() => picked(c)))));
    $("choices").firstChild.focus();
    hear();
  }
  // What is to be done first is read and done before it is written down.
  function readFirst(c) {
    mode = "read"; document.body.dataset.do = "mix"; hear();
    $("head").textContent = "DO THIS FIRST"; $("figure").textContent = ""; lines(c.lines);
    $("go").className = "go"; $("go").hidden = false; $("go").textContent = "Done";
    chosen = c;
    $("choices").replaceChildren(button("Go back", touch(draw)));
    $("more").hidden = $("pieces").hidden = $("degrees").hidden = true;
    window.scrollTo(0, 0);
  }
  function picked(c) {
    if (c.act) { c.act(); return; }
    if (c.ask === "temperature") { asking = true; typed = ""; draw(); return; }
    if (c.ask === "anyway") { anyway = state.load; draw(); return; }
    if (c.why) { choose(c.why); return; }
    if (c.lines) { readFirst(c); return; }
    if (c.ask === "clock") { out(); return; }
    if (!c.entry) { draw(); return; }
    keep(c.entry);
    if (c.entry.do === "paused") pause();
    else if (c.entry.do === "out") sent("LOAD " + c.entry.load + " IS OUT", ["rinse load " + c.entry.load + " at once"]); else sent();
  }

  // What was said of another name holds no longer. On leaving the field would be too late: the page
  // would move under the finger, and the touch be lost.
  by.addEventListener("input", () => { if (!$("message").querySelector("a")) tell(); });
  // A load that went in under another name is written down under the right one, from when it went in.
  by.addEventListener("change", () => {
    const first = mode !== "step" && load && load.refused;
    if (first) { load.refused = null; keep(first.entry, { at_ms: first.at_ms }); }
  });
  $("waste").addEventListener("submit", async (event) => {
    event.preventDefault();
    if (!hears()) return;
    hush(600);
    const body = { container: $("container").value.trim(), volume: $("volume").value.trim(), by: by.value.trim() };
    if (!body.container || !body.volume) { tell({ error: "the container or the volume is missing", do: "write both, as on the label of the container" }); return; }
    try { const { ok, said } = await post("/waste", body); if (ok) { tell(); told++; take(said); draw(); } else { said.do = said.do.replace("at the computer: ", "").replace(": --container NAME", " above"); tell(said); } } catch { tell(lost); }
  });
  $("more").addEventListener("click", touch(() => choose(mode !== "in" ? state.others : over() < 0 ? mistaken() : became().filter((c) => c.ask !== "clock"))));
  $("go").addEventListener("click", () => {
    awake();
    if (mode === "in") { inTouched(); return; }
    touch(step)();
  });
  function step() {
    if (mode === "lead" || mode === "paused") { mode = ""; draw(); return; }
    if (state && !state.ready && takesOver()) { askCall(); return; }
    if (mode === "read") { keep(chosen.entry); sent(); return; }
    if (!state || queue.length > 0 && !offline) return;
    if (state.ready) { location.href = base + "/review"; return; }
    if (state.do === "read" || asking) {
      if (!typed) { tell({ error: "no temperature is typed", do: "type what the thermometer shows; to go on without one, choose What else" }); return; }
      const was = typed;
      tell(); keep(entry("read"), { degrees: was }); typed = ""; asking = false;
      sent(was + " " + state.unit + " KEPT");
      return;
    }
    if (state.do === "dip") {
      if (state.wrong && anyway !== state.load) { choose(state.first); return; }
      hush(1000);
      lead();
      return;
    }
    if (state.plain) { keep(Object.assign({}, state.plain, state.do === "coat" ? { pieces } : {})); sent(); }
  }

  // The second person of the review takes over once it is said who stays within call, once for each change.
  const { first, second } = document.body.dataset, calls = "call-" + batch;
  const folded = (name) => name.trim().toLowerCase();
  const is = (name, whole) => folded(whole) === folded(name) || folded(whole).startsWith(folded(name) + " ");
  function takesOver() {
    const over = Boolean(second) && is(by.value, second) && !is(by.value, first);
    if (!over) sessionStorage.removeItem(calls);
    return over && sessionStorage.getItem(calls) !== second;
  }
  function askCall() {
    const was = mode;
    choose([{ text: "yes, " + first + " stays within call", act: () => { sessionStorage.setItem(calls, second); draw(); mode = was; step(); } }],
      "WHO STAYS WITHIN CALL?", [second + " was the second person and is at the bath now.", first + " stays within call from here on, or somebody else who knows what to do; without one this work waits."]);
  }

  function lead() {
    mode = "lead"; since = Date.now(); beep(1); tell();
    $("head").textContent = "LOAD " + state.load + ": GET READY"; lines(["the count runs from the first piece in"]);
    $("go").textContent = "Not yet"; $("more").hidden = $("pieces").hidden = true;
  }
  // A load that is in is counted until somebody says that it is out, at this tablet or another. Nothing
  // else books it: whoever does not touch the page may have the pieces in the bath still.
  const grace = 20; // s after the end of the dip for which Out writes down the time by the clock. Assumed.
  const over = () => load.time ? (Date.now() - load.since) / 1000 - load.time : -1;
  function counting() {
    mode = "in"; hear();
    document.body.dataset.do = "dip";
    $("bar").hidden = $("go").hidden = $("more").hidden = false; $("go").className = "go"; $("go").textContent = "Out"; $("choices").replaceChildren();
    $("pieces").hidden = $("degrees").hidden = $("result").hidden = $("where").hidden = true;
    load.rung = Math.min(load.rung, 1);
    $("head").textContent = "LOAD " + load.number + " IS IN"; lines([load.band, load.next]);
    tick();
  }
  function resume() {
    load = { number: state.load, pieces: state.pieces, time: state.time_s, since: state.open_ms, band: state.band, next: state.next, rung: 0, known: true, undo: undoes(state) };
    counting();
  }
  function into() {
    const e = entry("in", Object.assign({ load: state.load, pieces }, state.time_s ? { time_s: state.time_s } : {}));
    load = { number: state.load, pieces, time: state.time_s, since: Date.now(), band: state.band, next: state.next, rung: 0, known: false, undo: e.key };
    beep(1);
    keep(e);
    counting();
  }
  function inTouched() {
    if (Date.now() - load.since < 1000) { lines(["one second: it has just gone in", load.band]); return; }
    if (Date.now() < deaf) return;
    hush(over() > grace ? 600 : 1500); // what became of it is asked in a list, which must hear soon
    if (over() > grace) { load.quiet = true; choose(became(), "LOAD " + load.number + ": WHAT BECAME OF IT?", ["take it out now if it is still in, then say what happened"]); return; }
    out();
  }
  const outOf = (more) => entry("out", Object.assign({ load: load.number, pieces: load.pieces }, more));
  function out() {
    const seconds = Math.round((Date.now() - load.since) / 100) / 10;
    beep(1);
    keep(outOf({ time_s: seconds }));
    sent("LOAD " + load.number + " IS OUT", ["rinse load " + load.number + " at once", seconds + " s"]);
  }
  // The answers of the journal, or, where there is no connection, the two that the page can give.
  function became() {
    const said = state.open_ms && state.load === load.number && state.first;
    return said || [{ text: "it comes out now: the time by the clock", ask: "clock" }, { text: "it came out on time, after " + load.time + " s", entry: outOf({ time_s: load.time, note: "interrupted: the planned time, from memory" }) }].concat(mistaken());
  }
  const mistaken = () => [{ text: "tapped by mistake: load " + load.number + " is not in the bath", entry: entry("undone", { undoes: load.undo }) }];
  function tick() {
    const gone = (Date.now() - load.since) / 1000, late = over();
    $("figure").textContent = load.time ? late <= 0 ? clock(Math.ceil(-late)) : "+" + clock(Math.floor(late)) : clock(Math.floor(gone));
    if (mode !== "in") return;
    $("bar").value = load.time ? Math.min(gone / load.time, 1) : 0;
    if (!load.time) return;
    if (late >= -3 && late < 0 && load.rung < 1 && load.time > 6) { load.rung = 1; beep(1); $("head").textContent = "READY TO LIFT"; }
    if (late >= 0 && load.rung < 2) { load.rung = 2; beep(3); $("head").textContent = "OUT NOW"; $("go").className = "go out"; }
    if (late > grace && load.rung < 3) { load.rung = 3; load.loud = 0; $("head").textContent = "LOAD " + load.number + " IS NOT OUT"; $("go").className = "go out"; $("go").textContent = "Take it out, then touch here"; lines(["nobody has touched Out: the pieces may be in the bath still", load.band]); }
    if (load.rung === 3 && !load.quiet && Date.now() - load.loud > 2000) { load.loud = Date.now(); beep(3); }
  }
  setInterval(() => {
    if (mode === "lead") {
      const left = Math.ceil(3 - (Date.now() - since) / 1000);
      $("figure").textContent = Math.max(left, 0);
      if (left <= 0) into();
    } else if (load && (mode === "in" || mode === "list" && counted)) {
      // A list that nobody chooses from hides no load that is due.
      const due = over() > grace ? 3 : over() >= 0 ? 2 : 0;
      if (mode === "list" && (load.rung < due && !load.quiet || Date.now() - opened > 30000)) { load.quiet = false; counting(); }
      tick();
    }
    hear();
  }, 100);
  tone();
  save();
  look();
}
