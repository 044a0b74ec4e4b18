// A dish at the stove: plates, measures, countdowns, what is done, and a screen that stays lit. Without it the page is whole all the same.
"use strict";
(() => {
  var say = Figures.say;
  var article = document.querySelector("article");
  var slots = JSON.parse(document.getElementById("slots").textContent);
  function all(query, within) { return Array.from((within || document).querySelectorAll(query)); }

  // ---- what the browser keeps; some keep nothing, and then a page's own memory must do

  var memory = {};
  var store = {
    get: key => {
      try { return JSON.parse(window.localStorage.getItem(key)) || memory[key] || null; } catch (_) { return memory[key] || null; }
    },
    set: (key, value) => {
      memory[key] = value;
      try {
        if (value === null) window.localStorage.removeItem(key);
        else window.localStorage.setItem(key, JSON.stringify(value));
      } catch (_) { /* denied, or full */ }
    },
  };
  var BOOK = "recipec " + article.dataset.book;
  var DISH = BOOK + " " + article.dataset.dish + " " + article.dataset.version;
  var TIMERS = BOOK + " countdowns";

  // ---- plates and measures

  var field = document.getElementById("plates"), dosed = document.getElementById("dosed"), much = document.querySelector("[data-much]");
  var written = slots.plates === undefined ? Sums.one : Sums.read(slots.plates);
  var first = Sums.mul(written, Sums.read(slots.times || 1));
  var state = { plates: first, measures: slots.measures };

  function put(element, text) {
    if (element.textContent !== text) element.textContent = text;
  }
  function show() {
    var factor = Sums.div(state.plates, written), measures = state.measures, uses = new Map();
    var asked = !Sums.eq(state.plates, first);
    var forPlates = slots.plates === undefined ? "" : Sums.plates(state.plates);
    function use(place) {
      if (!uses.has(place)) uses.set(place, Sums.use(slots.amounts[place], factor, measures));
      return uses.get(place);
    }
    function whole(words) { return words.head + words.tail; }
    all("[data-u]").forEach(element => {
      var code = element.dataset.u, place = parseInt(code, 10), words = use(place), what = code.slice(-1);
      put(element,
        what === "h" ? words.head : what === "t" ? words.tail : what === "n" ? words.name :
        what === "p" ? words.part && ", " + words.part : what === "l" ? words.part && Sums.fill(say.partOf, { part: words.part }) + " " :
        what === "L" ? Sums.line(slots.amounts[place], words) :
        what === "c" && whole(words).indexOf(say.about) ? say.about + whole(words) : whole(words));
    });
    all("[data-g]").forEach(element => {
      var words = Sums.gear(slots.gear[parseInt(element.dataset.g, 10)], factor, measures, forPlates), what = element.dataset.g.slice(-1);
      put(element, what === "n" ? words.name : what === "r" ? words.remark && ", " + words.remark : words.name + (words.remark && ", " + words.remark));
    });
    all("[data-m]").forEach(element => {
      put(element, slots.words[parseInt(element.dataset.m, 10)][["as written", "metric", "us"].indexOf(measures)]);
    });
    all("[data-t]").forEach(element => {
      var ends = slots.paces[parseInt(element.dataset.t, 10)].map(end => Sums.mul(Sums.read(end), state.plates));
      var what = element.dataset.t.slice(-1);
      if (what === "s") element.dataset.s = String(ends[0]) === String(ends[1]) ? String(Sums.ceil(ends[0])) : ends.map(Sums.ceil).join("-");
      else if (what === "r") put(element, Sums.fill(say.timeFor, { time: Sums.duration(ends[0], ends[1]), plates: Sums.plates(state.plates) }));
      else put(element, Sums.fill(say.check, { time: Sums.duration(ends[0], ends[0]) }));
    });
    if (much) {
      var made = slots.makes === undefined ? "" : whole(use(slots.makes));
      put(much, [asked ? forPlates : much.dataset.much, made].filter(Boolean).join(", "));
    }
    if (field) field.value = Sums.text(state.plates);
    notes(factor, asked, forPlates);
    article.dispatchEvent(new Event("shown"));
  }
  function notes(factor, asked, forPlates) {
    var told = slots.notes || {}, found = [];
    if (asked) {
      var far = Sums.cmp(factor, Sums.read(2)) > 0 ? "more" : Sums.cmp(factor, Sums.read("1/2")) < 0 ? "less" : "";
      found.push(far ? Sums.times(factor) : Sums.fill(say.nowFor, {
        what: forPlates || Sums.fill(say.timesAsWritten, { number: Sums.text(factor) }),
      }));
      found = found.concat(told.any || [], far ? told[far] || told.more || [] : [], told.varies ? [say.varies] : []);
    }
    dosed.replaceChildren.apply(dosed, found.map(text => {
      var line = document.createElement("p");
      line.textContent = text;
      return line;
    }));
  }
  function keep() {
    store.set(DISH + " bench", { plates: Sums.text(state.plates), measures: state.measures });
  }
  function setPlates(value) {
    if (!value) {
      field.setAttribute("aria-invalid", "true");
      dosed.textContent = say.notPlates;
      return;
    }
    field.removeAttribute("aria-invalid");
    state.plates = value;
    show();
    keep();
  }
  if (field) {
    field.addEventListener("change", () => { setPlates(Sums.typed(field.value)); });
    field.addEventListener("keydown", event => {
      if (event.key === "Enter") setPlates(Sums.typed(field.value));
    });
    all(".dose button").forEach(button => {
      button.addEventListener("click", () => {
        var next = Sums.add(state.plates, Sums.read(button.dataset.by));
        // From 4½ one goes to 4 or 5; less than one is for typing.
        if (next.d !== 1n) next = Sums.read(button.dataset.by > 0 ? next.n / next.d : next.n / next.d + 1n);
        if (Sums.cmp(next, Sums.one) >= 0) setPlates(next);
      });
    });
  }
  all("[name=measures]").forEach(radio => {
    radio.addEventListener("change", () => {
      if (!radio.checked) return;
      state.measures = radio.value;
      show();
      keep();
    });
  });

  // ---- ticks

  var ticked = store.get(DISH + " ticks") || {};
  function tick(item, key, label) {
    var box = document.createElement("input");
    box.type = "checkbox";
    box.className = "tick";
    box.checked = Boolean(ticked[key]);
    item.classList.toggle("ticked", box.checked);
    if (label.nodeType) {
      label.id = key;
      box.setAttribute("aria-labelledby", key);
    } else box.setAttribute("aria-label", label);
    box.addEventListener("change", () => {
      if (box.checked) ticked[key] = 1; else delete ticked[key];
      item.classList.toggle("ticked", box.checked);
      store.set(DISH + " ticks", ticked);
    });
    item.prepend(box);
  }
  all(".board .foods > li").forEach((item, place) => {
    var words = document.createElement("span");
    words.append.apply(words, Array.from(item.childNodes));
    item.append(words);
    tick(item, "food-" + place, words);
  });
  all(".steps > li").forEach(item => {
    var number = item.querySelector(".number");
    if (number) {
      var name = Sums.fill(say.step, { number: number.textContent });
      tick(item, item.id, Sums.fill(say.done, { what: name }));
    }
  });
  document.getElementById("afresh").addEventListener("click", () => {
    ticked = {};
    store.set(DISH + " ticks", null);
    all(".tick").forEach(box => {
      box.checked = false;
      box.parentElement.classList.remove("ticked");
    });
    state = { plates: first, measures: slots.measures };
    all("[name=measures]").forEach(radio => { radio.checked = radio.value === state.measures; });
    if (field) field.removeAttribute("aria-invalid");
    show();
    store.set(DISH + " bench", null);
  });

  // ---- countdowns

  var bar = document.createElement("section"), list = document.createElement("ul"), heard = document.createElement("p");
  bar.className = "clocks";
  bar.hidden = true;
  bar.setAttribute("aria-label", document.querySelector(".bench").dataset.clocks);
  heard.className = "hidden";
  heard.setAttribute("aria-live", "polite");
  bar.append(list);
  document.body.append(bar, heard);
  var sound = null, shownRows = new Map();

  // One countdown: 'low' and 'high' are moments (ms since 1970); while it is paused, what is left till then. 'told' counts its two ends.
  function timers() {
    var found = store.get(TIMERS);
    return Array.isArray(found) ? found.filter(one => one && Number.isFinite(one.low) && Number.isFinite(one.high)) : [];
  }
  function change(id, how) {
    store.set(TIMERS, timers().map(one => one.id === id ? how(one) : one).filter(Boolean));
    draw();
  }
  function moved(one, by) { return Object.assign({}, one, { low: one.low + by, high: one.high + by }); }
  function clock(ms) {
    var seconds = Math.max(0, Math.ceil(ms / 1000)), hours = Math.floor(seconds / 3600), minutes = Math.floor(seconds / 60) % 60;
    var tail = String(seconds % 60).padStart(2, "0");
    return hours ? hours + ":" + String(minutes).padStart(2, "0") + ":" + tail : minutes + ":" + tail;
  }
  function beep() {
    var Sound = window.AudioContext || window.webkitAudioContext;
    if (!Sound) return;
    try {
      sound = sound || new Sound();
      if (sound.state === "suspended") sound.resume();
      [0, 0.25, 0.5].forEach(after => {
        var tone = sound.createOscillator(), gain = sound.createGain(), at = sound.currentTime + after;
        tone.frequency.value = 880;
        gain.gain.setValueAtTime(0.0001, at);
        gain.gain.exponentialRampToValueAtTime(0.5, at + 0.02);
        gain.gain.exponentialRampToValueAtTime(0.0001, at + 0.2);
        tone.connect(gain).connect(sound.destination);
        tone.start(at);
        tone.stop(at + 0.22);
      });
    } catch (_) { /* no sound card, or none allowed yet: the bar and the screen reader tell it */ }
  }
  function unlock() {
    var Sound = window.AudioContext || window.webkitAudioContext;
    if (!Sound) return;
    sound = sound || new Sound();
    if (sound.state === "suspended") sound.resume();
  }
  function begin(name, ends) {
    var now = Date.now();
    unlock();
    store.set(TIMERS, timers().concat([{
      id: now.toString(36) + Math.random().toString(36).slice(2, 7), name: name, dish: document.querySelector("h1").textContent,
      page: article.dataset.dish, from: ends[0] * 1000, to: ends[1] * 1000, low: now + ends[0] * 1000, high: now + ends[1] * 1000,
      told: 0, paused: false,
    }]));
    draw();
  }
  function row(one) {
    var item = document.createElement("li"), name = document.createElement("span"), time = document.createElement("b");
    name.className = "name";
    name.textContent = one.page === article.dataset.dish ? one.name : one.dish + ": " + one.name;
    time.setAttribute("role", "timer");
    time.setAttribute("aria-live", "off");
    time.setAttribute("aria-label", name.textContent);
    function button(act) {
      var made = document.createElement("button");
      made.type = "button";
      made.addEventListener("click", act);
      return made;
    }
    var pause = button(() => {
      change(one.id, timer => {
        var now = Date.now();
        // One that has ended starts again.
        if (timer.told > 1) return Object.assign({}, timer, { low: now + timer.from, high: now + timer.to, told: 0 });
        return Object.assign(moved(timer, timer.paused ? now : -now), { paused: !timer.paused });
      });
    });
    var stop = button(() => { change(one.id, () => null); });
    stop.textContent = say.stop;
    stop.setAttribute("aria-label", say.stop + ": " + name.textContent);
    item.append(time, name, pause, stop);
    list.append(item);
    return { item: item, time: time, pause: pause, name: name.textContent };
  }
  var rung = 0;
  function draw() {
    var found = timers(), now = Date.now(), ended = false, changed = false;
    found = found.map(one => {
      if (one.paused) return one;
      var reached = now >= one.high ? 2 : now >= one.low ? 1 : 0;
      if (reached <= one.told) return one;
      changed = true;
      beep();
      rung = now;
      heard.textContent = Sums.fill(reached > 1 ? say.over : say.look, { name: one.name });
      return Object.assign({}, one, { told: reached });
    });
    if (changed) store.set(TIMERS, found);
    shownRows.forEach((parts, id) => {
      if (!found.some(one => one.id === id)) {
        var inside = parts.item.contains(document.activeElement);
        parts.item.remove();
        shownRows.delete(id);
        // Whoever works by keyboard goes on where the row was.
        if (inside) {
          var next = list.querySelector("button") || document.querySelector("button.dial");
          if (next) next.focus();
        }
      }
    });
    found.forEach(one => {
      var parts = shownRows.get(one.id);
      if (!parts) shownRows.set(one.id, parts = row(one));
      var left = one.paused ? { low: one.low, high: one.high } : { low: one.low - now, high: one.high - now };
      var ringing = one.told > 1 && !one.paused;
      ended = ended || ringing;
      put(parts.time, ringing ? say.overShort : one.told ? say.lookShort + " " + clock(left.high) : clock(left.low));
      var act = ringing ? say.again : one.paused ? say.goOn : say.pause;
      put(parts.pause, act);
      parts.pause.setAttribute("aria-label", act + ": " + parts.name);
      parts.item.classList.toggle("up", one.told > 0 && !one.paused);
    });
    // One that nobody has stopped is heard again, for two minutes.
    if (ended && now - rung >= 5000 && found.some(one => one.told > 1 && now - one.high < 120000)) {
      rung = now;
      beep();
    }
    bar.hidden = !found.length;
    document.body.classList.toggle("timed", !bar.hidden);
  }
  all(".dial[data-s]").forEach(dial => {
    var button = document.createElement("button"), inside = document.createElement("span");
    button.type = "button";
    button.className = dial.className;
    Object.keys(dial.dataset).forEach(name => {
      if (name === "s" || name === "t") button.dataset[name] = dial.dataset[name];
      else inside.dataset[name] = dial.dataset[name];
    });
    inside.append.apply(inside, Array.from(dial.childNodes));
    button.append(inside);
    button.title = Sums.fill(say.start, { time: inside.textContent });
    button.addEventListener("click", () => {
      var ends = button.dataset.s.split("-").map(Number), item = button.closest("li"), number = item && item.querySelector(".number");
      var words = (item ? item.querySelector("p") : button.parentElement).textContent.trim(), cut = words.slice(0, 34).lastIndexOf(" ");
      var about = words.length > 34 ? words.slice(0, cut) + "…" : words;
      begin((number ? Sums.fill(say.step, { number: number.textContent }) + ", " : "") + inside.textContent + ": " + about, [ends[0], ends[ends.length - 1]]);
    });
    dial.replaceWith(button);
  });
  window.addEventListener("storage", draw);
  window.setInterval(draw, 250);
  document.addEventListener("visibilitychange", draw);

  // ---- a screen that stays lit

  var awake = document.getElementById("awake"), lock = null;
  function wake() {
    if (!awake.checked || document.visibilityState !== "visible" || lock) return;
    navigator.wakeLock.request("screen").then(held => {
      if (!awake.checked) return held.release();
      lock = held;
      held.addEventListener("release", () => { lock = null; });
    }, () => { awake.checked = false; });
  }
  if (navigator.wakeLock) {
    awake.checked = Boolean(store.get(BOOK + " lit"));
    awake.addEventListener("change", () => {
      store.set(BOOK + " lit", awake.checked ? 1 : null);
      if (awake.checked) wake();
      else if (lock) lock.release();
    });
    document.addEventListener("visibilitychange", wake);
    wake();
  } else {
    awake.disabled = true;
    awake.parentElement.title = say.noWake;
  }

  // ---- as it was left

  var left = store.get(DISH + " bench");
  if (left) {
    state.plates = (field && Sums.typed(String(left.plates))) || first;
    if (["as written", "metric", "us"].indexOf(left.measures) >= 0) state.measures = left.measures;
    all("[name=measures]").forEach(radio => { radio.checked = radio.value === state.measures; });
    show();
  } else if (field) field.value = Sums.text(state.plates);
  draw();
  document.documentElement.classList.add("live");
})();
