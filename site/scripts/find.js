// Finds dishes on the home page as one types.
"use strict";
(() => {
  var field = document.getElementById("find"), list = document.getElementById("found"), many = document.getElementById("found-many");
  if (!field) return;
  var boxes = Array.from(document.querySelectorAll(".finder fieldset input"));

  // Accents and case aside, as the index sorts.
  function folded(text) { return text.toLowerCase().normalize("NFKD").replace(/[\u0300-\u036f]/g, "").replace(/ß/g, "ss").replace(/œ/g, "oe").replace(/ø/g, "o"); }
  var rows = Dishes.rows.map(row => {
    var parts = [row[0], row[3]].concat(row[4]);
    return { title: row[0], page: row[1], much: row[2], free: row[5], parts: parts, words: parts.map(folded) };
  });

  // Every word must begin a word of the dish; those in its title put it first.
  function rank(row, wanted) {
    var score = 0;
    for (var word of wanted) {
      var place = row.words.findIndex(text => (" " + text.replace(/[^\p{L}\p{N}]+/gu, " ")).indexOf(" " + word) >= 0);
      if (place < 0) return -1;
      score += place ? 1 : 0;
    }
    return score;
  }
  function because(row, wanted) {
    // Why a dish is found, where its title does not say so.
    var found = [];
    wanted.forEach(word => {
      var place = row.words.findIndex(text => (" " + text.replace(/[^\p{L}\p{N}]+/gu, " ")).indexOf(" " + word) >= 0);
      if (place > 0 && found.indexOf(row.parts[place]) < 0) found.push(row.parts[place]);
    });
    return found.join(", ");
  }
  function span(name, text) {
    var made = document.createElement("span");
    made.className = name;
    made.textContent = text;
    return made;
  }
  function show() {
    var wanted = folded(field.value).split(/[^\p{L}\p{N}]+/u).filter(Boolean);
    var free = boxes.filter(box => box.checked).map(box => Number(box.value));
    var asked = wanted.length > 0 || free.length > 0;
    var found = !asked ? [] : rows.map(row => ({ row: row, score: rank(row, wanted) }))
      .filter(one => one.score >= 0 && free.every(group => one.row.free.indexOf(group) >= 0))
      .sort((a, b) => a.score - b.score);
    list.replaceChildren(...found.map(one => {
      var item = document.createElement("li"), link = document.createElement("a"), what = span("what", one.row.title);
      link.href = one.row.page;
      what.dir = "auto";
      link.append(what, span("dots", ""), span("much", [because(one.row, wanted), one.row.much].filter(Boolean).join(" · ")));
      item.append(link);
      return item;
    }));
    var number = found.length, forms = Figures.say.dishes;
    var without = free.map(group => Figures.say.freeOf.replace("%(what)s", Dishes.groups[group])).join(", ");
    many.textContent = !asked ? "" : (number ? forms[number === 1 ? 0 : 1].replace("%(number)s", number) : Figures.say.none) + (without ? " (" + without + ")" : "");
  }
  function links() { return Array.from(list.querySelectorAll("a")); }
  field.addEventListener("input", show);
  boxes.forEach(box => box.addEventListener("change", show));
  document.querySelector(".finder").addEventListener("keydown", event => {
    var all = links(), place = all.indexOf(document.activeElement);
    if (event.key === "Escape" && (field.value || place >= 0)) {
      field.value = "";
      show();
      field.focus();
    } else if (event.key === "Enter" && event.target === field && all.length) {
      all[0].click();
    } else if ((event.key === "ArrowDown" || event.key === "ArrowUp") && (event.target === field || place >= 0)) {
      var next = place + (event.key === "ArrowDown" ? 1 : -1);
      if (next < 0) field.focus();
      else if (all[next]) all[next].focus();
    } else return;
    event.preventDefault();
  });
  show();
  document.documentElement.classList.add("live");
})();
