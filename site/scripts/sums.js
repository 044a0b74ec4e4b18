// Amounts for other plates and other measures, as the compiler reckons and words them.
// A port of recipec/measure/{show,wording,rounding,numerals,show_reading}.py: every figure and word comes from Figures, which
// recipec/emit/live_figures.py writes from the very tables that the compiler uses. tests/browser holds the two equal.
"use strict";
var Sums = (() => {
  var AS_WRITTEN = "as written";
  var NO_BREAK = "\u00a0";

  // ---- exact fractions

  function gcd(a, b) {
    while (b) [a, b] = [b, a % b];
    return a < 0n ? -a : a;
  }
  function frac(n, d) {
    if (d < 0n) [n, d] = [-n, -d];
    var g = gcd(n, d);
    return g > 1n ? { n: n / g, d: d / g } : { n: n, d: d };
  }
  function read(value) {
    var parts = String(value).split("/");
    return frac(BigInt(parts[0]), BigInt(parts[1] || 1));
  }
  function add(a, b) { return frac(a.n * b.d + b.n * a.d, a.d * b.d); }
  function sub(a, b) { return frac(a.n * b.d - b.n * a.d, a.d * b.d); }
  function mul(a, b) { return frac(a.n * b.n, a.d * b.d); }
  function div(a, b) { return frac(a.n * b.d, a.d * b.n); }
  function cmp(a, b) {
    var apart = a.n * b.d - b.n * a.d;
    return apart < 0n ? -1 : apart > 0n ? 1 : 0;
  }
  function eq(a, b) { return a.n === b.n && a.d === b.d; }
  function max(a, b) { return cmp(a, b) < 0 ? b : a; }
  function floor(a) {
    var whole = a.n / a.d;
    return a.n < 0n && whole * a.d !== a.n ? whole - 1n : whole;
  }
  function whole(number) { return { n: BigInt(number), d: 1n }; }
  function ceil(a) { return -floor({ n: -a.n, d: a.d }); }

  var ZERO = whole(0), ONE = whole(1), TWO = whole(2), TEN = whole(10), HALF = read("1/2"), QUARTER = read("1/4");
  var fig = Figures;
  var limits = {};
  Object.keys(fig.limits).forEach(name => { limits[name] = read(fig.limits[name]); });
  var parts = {};
  Object.keys(fig.parts).forEach(name => { parts[name] = fig.parts[name].map(read); });
  var steps = fig.steps.map(row => row.map(read));
  var finer = fig.finer.map(read);
  var shopSteps = fig.shop.map(row => row.map(read));
  var units = {};
  Object.keys(fig.units).forEach(key => {
    var row = fig.units[key];
    units[key] = { key: key, dim: row[0], factor: read(row[1]), bare: row[2] || key };
  });
  fig.counts.split(" ").forEach(key => { units[key] = { key: key, dim: "count", factor: ONE, bare: key }; });
  function unit(key) { return units[key]; }
  function listed(list, key) { return list.indexOf(key) >= 0; }

  // ---- rounding

  function within(shown, exact, limit) {
    var apart = shown.n * exact.d - exact.n * shown.d;
    if (apart < 0n) apart = -apart;
    return apart * limit.d <= limit.n * exact.n * shown.d;
  }
  function nearest(value, step) {
    var over = (value.n < 0n ? -value.n : value.n) * step.d;
    var under = value.d * step.n;
    var times = (2n * over + under) / (2n * under);
    return frac((value.n < 0n ? -times : times) * step.n, step.d);
  }
  function byStep(value, limit) {
    if (cmp(value, limits.exempt) < 0) {
      return value.n > 0n ? max(nearest(value, limits.finest), limits.finest) : ZERO;
    }
    var tries = steps.filter(row => cmp(value, row[0]) >= 0)
      .map(row => row[1]).concat(finer);
    for (var step of tries) {
      var near = nearest(value, step);
      if (within(near, value, limit)) return near;
    }
    return nearest(value, limits.finest);
  }
  function byParts(value, allowed) {
    var base = whole(floor(value)), rest = sub(value, base), best = null, least = null;
    allowed.forEach(part => {
      var apart = sub(part, rest);
      if (apart.n < 0n) apart = { n: -apart.n, d: apart.d };
      // The greater at a tie; parts stand in rising order.
      if (least === null || cmp(apart, least) <= 0) { least = apart; best = part; }
    });
    return add(base, best);
  }

  // ---- numerals and words

  function plain(value) { return value.d === 1n ? String(value.n) : value.n + "/" + value.d; }
  function mixed(value) {
    var base = floor(value), part = sub(value, whole(base));
    if (!part.n) return String(base);
    var sign = fig.vulgar[plain(part)];
    if (sign) return (base || "") + sign;
    return base ? base + " " + plain(part) : plain(part);
  }
  function decimal(value) {
    var scaled = mul(value, whole(1000));
    if (scaled.d !== 1n) return mixed(value);
    var base = scaled.n / 1000n;
    var rest = String(scaled.n % 1000n).padStart(3, "0").replace(/0+$/, "");
    return rest ? base + fig.mark + rest : String(base);
  }
  function span(low, high) {
    if (low === high) return low;
    return low + ((low + high).indexOf(NO_BREAK) >= 0 ? " – " : "–") + high;
  }
  function many(number) { return fig.beyond ? cmp(number, read(fig.several)) > 0 : cmp(number, read(fig.several)) >= 0; }
  function fill(text, values) {
    return text.replace(/%\((\w+)\)s/g, (_, name) => values[name]);
  }
  function form(forms, plural) {
    var both = forms.split("|");
    return both[plural ? both.length - 1 : 0];
  }
  function word(key, plural) {
    return fig.words[key] ? form(fig.words[key], plural) : key === "piece" ? "" : key;
  }
  function worded(number, key, plural) {
    if (fig.nominal[key] && number === "1") return fig.nominal[key];
    var text = word(key, plural && !listed(fig.single, number));
    return text ? number + NO_BREAK + text : number;
  }

  // ---- one number of one unit: what is said, what that stands for, whether it keeps to the bound

  function said(terms, value, kept, lead) { return { terms: terms, value: value, kept: kept, lead: lead }; }
  function saidText(one) {
    var several = one.terms.length > 1 || many(one.lead);
    var words = one.terms.map(term => worded(term[0], term[1], several));
    return words.join(one.terms[one.terms.length - 1][1] === "oz" ? " " : fig.say.plus);
  }
  function say(value, of, measures, limit) {
    if (fig.nominal[of.key]) {
      var number = value.n ? max(byParts(div(value, of.factor), parts.halves), ONE) : ZERO;
      return said([[mixed(number), of.key]], mul(number, of.factor), true, number);
    }
    if (of.dim === "mass") {
      var mass = sayMass(value, of, measures, limit);
      return of.key === "butter_stick" && measures !== "metric" ? first(value, [single(value, of, parts.quarters, limit)], mass) : mass;
    }
    if (of.dim === "volume") return sayVolume(value, of, measures, limit);
    if (of.dim === "count") return sayCount(value, of, limit);
    var other = div(value, of.factor);
    return said([[decimal(nearest(other, read("1/100"))), of.key]], value, true, other);
  }
  function metric(value, limit, small, large) {
    var rounded = byStep(value, limit);
    var key = cmp(rounded, whole(1000)) >= 0 ? large : small;
    var number = div(rounded, unit(key).factor);
    return said([[decimal(number), key]], rounded, within(rounded, value, limit) || cmp(value, limits.exempt) < 0, number);
  }
  function metricMass(value, limit) { return metric(value, limit, "g", "kg"); }
  function metricVolume(value, limit, key) { return metric(value, limit, key || "ml", "l"); }
  function sayCount(value, of, limit) {
    var rounded = byParts(value, cmp(value, whole(4)) < 0 ? parts.thirds : cmp(value, TEN) < 0 ? parts.halves : parts.whole);
    if (!within(rounded, value, limit) && cmp(value, TEN) < 0) rounded = byParts(value, parts.thirds);
    if (!rounded.n && value.n) rounded = parts.eighths[1];
    return said([[mixed(rounded), of.key]], rounded, within(rounded, value, limit), rounded);
  }
  function sayByEye(value, of, limit) {
    var number = max(byParts(div(value, of.factor), parts.halves), HALF), stands = mul(number, of.factor);
    return said([[mixed(number), of.bare]], stands, within(stands, value, limit), number);
  }
  function sayWhole(value, of) {
    var number = max(nearest(value, ONE), ONE);
    return said([[mixed(number), of.key]], number, true, number);
  }
  function sayMass(value, of, measures, limit) {
    var ounces = measures === "us" || (measures === AS_WRITTEN && listed(["oz", "lb", "butter_stick"], of.key));
    return first(value, ounces ? inOunces(value, limit) : [], metricMass(value, limit));
  }
  function inOunces(value, limit) {
    var ounce = unit("oz"), pound = unit("lb"), tries = [];
    if (cmp(value, mul(pound.factor, sub(ONE, limit))) >= 0) {
      var quarter = single(value, pound, parts.quarters, limit);
      if (eq(quarter.value, value) || cmp(value, mul(TEN, pound.factor)) >= 0) tries.push(quarter);
      var number = byParts(div(value, ounce.factor), cmp(value, mul(whole(5), pound.factor)) < 0 ? parts.halves : parts.whole);
      var stands = mul(number, ounce.factor), inPounds = div(number, whole(16)), pounds = whole(floor(inPounds));
      var terms = [[mixed(pounds), "lb"], [mixed(sub(number, mul(pounds, whole(16)))), "oz"]];
      if (div(number, whole(4)).d === 1n) terms = [[mixed(inPounds), "lb"]];
      terms = terms.filter(term => term[0] !== "0");
      tries.push(said(terms, stands, within(stands, value, limit), inPounds));
    } else if (cmp(value, div(ounce.factor, TWO)) >= 0) {
      [parts.halves, parts.quarters, parts.eighths].forEach(some => { tries.push(single(value, ounce, some, limit)); });
    }
    return tries;
  }
  function sayVolume(value, of, measures, limit) {
    var key = of.bare, system = of.key.split("_")[0];
    if (measures === "us") return spoons(value, "us", unit("us_cup"), limit);
    if (key === "tsp" || key === "tbsp") {
      if (measures === "metric") system = system === "au" ? "au" : "metric";
      var cup = system === "us" ? unit("us_cup") : null;
      if (!cup && cmp(value, mul(whole(8), unit("metric_tbsp").factor)) >= 0) return metricVolume(value, limit);
      return spoons(value, system, cup, limit);
    }
    if (measures === "metric" || listed(["ml", "cl", "dl", "l"], key)) {
      return metricVolume(value, limit, listed(["cl", "dl"], key) && measures === AS_WRITTEN ? key : "ml");
    }
    if (key === "cup") return spoons(value, system === "us" ? "us" : "metric", of, limit);
    return first(value, customary(value, of, limit), system === "us" ? spoons(value, "us", unit("us_cup"), limit) : metricVolume(value, limit));
  }
  function customary(value, of, limit) {
    var tries = [];
    if (listed(["gallon", "quart", "pint"], of.bare)) {
      if (cmp(value, mul(div(of.factor, whole(4)), sub(ONE, limit))) >= 0) tries.push(single(value, of, parts.quarters, limit));
    } else tries.push(single(value, of, parts.halves, limit));
    if (cmp(value, unit("us_pint").factor) < 0) {
      var ounce = unit(of.key.split("_")[0] + "_floz");
      tries.push(single(value, ounce, parts.halves, limit), single(value, ounce, parts.quarters, limit));
    }
    return tries;
  }
  function spoons(value, system, cup, limit) {
    var tsp = unit(fig.spoons[system][0]), tbsp = unit(fig.spoons[system][1]), tries = [];
    var nearly = sub(ONE, limit), cups = cup && cmp(value, mul(mul(cup.factor, QUARTER), nearly)) >= 0;
    var spoon = cmp(value, mul(tbsp.factor, nearly)) >= 0;
    if (cup && cup.key === "us_cup" && cmp(value, mul(whole(8), cup.factor)) >= 0) tries.push(single(value, unit("us_quart"), parts.quarters, limit));
    if (cups) tries.push(single(value, cup, parts.thirds, limit));
    if (spoon && (!cup || cmp(value, mul(cup.factor, HALF)) < 0)) tries.push(single(value, tbsp, parts.halves, limit));
    if (cups) {
      [[parts.quarters, parts.whole], [parts.thirds, parts.whole], [parts.thirds, parts.halves]].forEach(pair => {
        tries.push(double(value, cup, pair[0], tbsp, pair[1], limit));
      });
    }
    if (spoon) tries.push(double(value, tbsp, parts.whole, tsp, parts.quarters, limit));
    tries.push(single(value, tsp, parts.quarters, limit));
    if (cmp(value, tsp.factor) < 0) tries.push(single(value, tsp, parts.eighths, limit));
    var least = single(value, tsp, parts.quarters, limit);
    tries.push(least.value.n ? least : said([["⅛", tsp.bare]], div(tsp.factor, whole(8)), false, read("1/8")));
    return first(value, tries, tries[tries.length - 1]);
  }
  function single(value, of, allowed, limit) {
    var number = byParts(div(value, of.factor), allowed), stands = mul(number, of.factor);
    return said([[mixed(number), of.bare]], stands, within(stands, value, limit), number);
  }
  function double(value, large, largeParts, small, smallParts, limit) {
    var times = div(value, large.factor), base = whole(floor(times)), rest = sub(times, base);
    var fits = largeParts.filter(part => cmp(part, rest) <= 0);
    var lead = add(base, fits[fits.length - 1]);
    var second = byParts(div(sub(value, mul(lead, large.factor)), small.factor), smallParts);
    var stands = add(mul(lead, large.factor), mul(second, small.factor));
    var terms = [[lead, large], [second, small]].filter(pair => pair[0].n)
      .map(pair => [mixed(pair[0]), pair[1].bare]);
    return said(terms, stands, terms.length > 0 && within(stands, value, limit), lead);
  }
  function first(value, tries, otherwise) {
    if (!value.n) return otherwise;
    return tries.find(one => one.kept && one.value.n) || otherwise;
  }

  // ---- amounts

  function term(unitKey, low, high) { return { of: unit(unitKey), low: low, high: high || low }; }
  function baseLow(t) { return mul(t.low, t.of.factor); }
  function baseHigh(t) { return mul(t.high, t.of.factor); }
  function kind(of) { return of.dim === "count" ? of.key : of.dim; }
  function total(terms) {
    return terms.reduce((sum, more) => {
      if (!sum || kind(sum.of) !== kind(more.of)) return null;
      var of = cmp(more.of.factor, sum.of.factor) < 0 ? more.of : sum.of;
      var one = div(sum.of.factor, of.factor), two = div(more.of.factor, of.factor);
      return { of: of, low: add(mul(sum.low, one), mul(more.low, two)), high: add(mul(sum.high, one), mul(more.high, two)) };
    });
  }
  function joined(low, high) {
    if (String(low.terms) === String(high.terms)) return saidText(high);
    if (low.terms.length === 1 && high.terms.length === 1 && low.terms[0][1] === high.terms[0][1]) {
      return worded(span(low.terms[0][0], high.terms[0][0]), high.terms[0][1], many(high.lead));
    }
    return span(saidText(low), saidText(high));
  }
  function withSize(text, size, several) {
    if (!size) return text;
    var cut = text.indexOf(NO_BREAK), sized = fig.sizes[size] || size;
    return (cut < 0 ? text : text.slice(0, cut)) + " " + form(sized, several) + (cut < 0 ? "" : " " + text.slice(cut + 1));
  }
  function shown(head, tail, plural) { return { head: head, tail: tail, plural: plural }; }

  // 'how' is the slot: a(bout), e(ach holds), z (size), d(own), x (strict), n (g per ml), o (solid), k (g of one), q (its rest), u(ncut).
  function show(how, terms, measures, written) {
    if (how.d && !(written && measures === AS_WRITTEN)) {
      var down = total(terms);
      if (down && (down.of.dim === "mass" || down.of.dim === "volume")) return nitrite(down);
    }
    if (written && measures === AS_WRITTEN) return toTheLetter(how, terms);
    var sum = total(terms), about = how.a ? fig.say.about : "";
    if (!sum) {
      return shown(about + terms.map(one => {
        var part = show({ x: how.x }, [one], measures);
        return part.head + part.tail;
      }).join(fig.say.plus), "", false);
    }
    var byEyeSize = listed(fig.byEye, how.z);
    if (how.o && how.n && measures === "metric" && !byEyeSize && byTheCup(sum)) {
      var grams = mul(sum.of.factor, read(how.n));
      return show({ a: how.a, x: how.x }, [term("g", mul(sum.low, grams), mul(sum.high, grams))], measures);
    }
    var limit = how.x ? limits.strict : limits.loose;
    var counted = sum.of.dim === "count", range = !eq(sum.low, sum.high);
    var held = how.e && String(how.e[0]) === String(how.e[1]) ? mul(read(how.e[0]), unit(how.e[2]).factor) : null;
    var each = how.k ? read(how.k) : null;
    if (counted && how.q && range) {
      sum = { of: sum.of, low: max(nearest(sum.low, ONE), ONE), high: max(nearest(sum.high, ONE), ONE) };
    } else if (counted && how.q && each) return wholeOnes(sum.low, each, limit, how);
    var exacts = [baseLow(sum), baseHigh(sum)];
    var byEye = byEyeSize && sum.of.dim === "volume";
    var ends = exacts.map(value => {
      if (counted && how.u) return sayWhole(value, sum.of);
      return byEye ? sayByEye(value, sum.of, limit) : say(value, sum.of, measures, limit);
    });
    var text = joined(ends[0], ends[1]), size = how.z, beside = "", start = "";
    var values = [ends[0].value, ends[1].value];
    if (!(ends[0].kept && ends[1].kept)) {
      var weigh = weight(sum, how.n ? read(how.n) : null, held || each, how.e);
      if (weigh && !byEye) {
        var other = exacts.map(value => weigh[0](mul(value, weigh[1]), limit));
        beside = joined(other[0], other[1]);
        values = other.map(one => div(one.value, weigh[1]));
        if (!ends.every((one, place) => within(one.value, exacts[place], limits.farOff))) {
          text = beside; beside = ""; counted = false; size = "";
        }
      } else start = fig.say.about;
    }
    if (how.e && !beside) {
      var content = term(how.e[2], read(how.e[0]), read(how.e[1]));
      if (held && cmp(values[1], ONE) < 0) {
        content = term(how.e[2], mul(content.low, exacts[1]), mul(content.high, exacts[1]));
      }
      var inside = show({ x: how.x }, [content], measures);
      beside = inside.head + inside.tail;
      if (!(held && cmp(values[1], ONE) < 0) && !(eq(values[0], ONE) && eq(values[1], ONE))) beside = fill(fig.say.each, { much: beside });
    }
    var piece = counted && sum.of.key === "piece";
    var inner = beside && !piece ? " (" + beside + ")" : "";
    var head = (about || start) + withSize(text, size, many(values[1])) + inner;
    return shown(head, beside && !inner ? " (" + beside + ")" : "", piece && many(values[1]));
  }
  function nitrite(sum) {
    var base = unit(sum.of.dim === "volume" ? "ml" : "g");
    var numbers = [baseLow(sum), baseHigh(sum)].map(value => {
      var step = cmp(value, whole(100)) >= 0 && base.key === "ml" ? whole(5) : cmp(value, read("1/10")) >= 0 ? read("1/10") : limits.finest;
      return decimal(mul(whole(floor(div(value, step))), step));
    });
    return shown(worded(span(numbers[0], numbers[1]), base.key, true), "", false);
  }
  function byTheCup(sum) {
    var key = sum.of.bare;
    if (sum.of.dim !== "volume" || listed(fig.decimals, key) || fig.nominal[key]) return false;
    return (key !== "tsp" && key !== "tbsp") || cmp(baseHigh(sum), limits.spoons) > 0;
  }
  function weight(sum, density, each, content) {
    if (sum.of.dim === "volume") return density ? [metricMass, density] : [metricVolume, ONE];
    if (sum.of.dim === "count" && each) return [content && unit(content[2]).dim === "volume" ? metricVolume : metricMass, each];
    return sum.of.dim === "mass" ? [metricMass, ONE] : null;
  }
  function uneven(number, strict) {
    var near = nearest(number, ONE);
    return !near.n || !within(near, number, strict ? limits.strict : limits.loose);
  }
  function wholeOnes(number, each, limit, how) {
    var full = whole(floor(number)), part = sub(number, full), near = nearest(number, ONE), about = how.a ? fig.say.about : "", tail = "";
    if (near.n && within(near, number, limit)) full = near;
    else {
      var grams = saidText(metricMass(mul(part, each), limit));
      if (!full.n) return shown(about + grams, "", false);
      tail = fig.say.plus + grams + " " + how.q;
    }
    return shown(about + withSize(String(full.n), how.z, many(full)), tail, many(full));
  }
  function toTheLetter(how, terms) {
    var words = terms.map(exact), sum = total(terms), tail = "";
    if (how.z && words.length === 1) words = [withSize(words[0], how.z, many(terms[0].high))];
    var head = (how.a ? fig.say.about : "") + words.join(fig.say.plus), piece = sum && sum.of.key === "piece";
    if (how.e) {
      var much = exact(term(how.e[2], read(how.e[0]), read(how.e[1])));
      var alone = sum && eq(sum.low, ONE) && eq(sum.high, ONE);
      var content = " (" + (alone ? much : fill(fig.say.each, { much: much })) + ")";
      if (piece) tail = content; else head += content;
    }
    return shown(head, tail, Boolean(piece && many(sum.high)));
  }
  function exact(one) {
    var numbers = [one.low, one.high].map(value => {
      var sign = mixed(value);
      return listed(fig.decimals, one.of.bare) || sign.indexOf("/") >= 0 ? decimal(value) : sign;
    });
    return worded(span(numbers[0], numbers[1]), one.of.bare, many(one.high));
  }
  function shopping(one, measures) {
    var need = baseHigh(one), of = one.of;
    function up(value, step) { return mul(whole(ceil(div(value, step))), step); }
    if (of.dim === "mass" && (measures === "us" || (measures === AS_WRITTEN && listed(["lb", "oz", "butter_stick"], of.key)))) {
      var key = cmp(need, unit("lb").factor) < 0 ? "oz" : "lb";
      return worded(mixed(up(div(need, unit(key).factor), key === "oz" ? HALF : QUARTER)), key, true);
    }
    if (of.dim === "mass" || of.dim === "volume") {
      var bought = up(need, shopSteps.find(row => cmp(need, row[0]) >= 0)[1]);
      var pair = of.dim === "mass" ? ["g", "kg"] : ["ml", "l"], large = pair[cmp(bought, whole(1000)) >= 0 ? 1 : 0];
      return worded(decimal(div(bought, unit(large).factor)), large, true);
    }
    var number = whole(ceil(one.high));
    return worded(String(number.n), of.bare, many(number));
  }

  // ---- times

  function duration(low, high) {
    var from = timeParts(wholeSeconds(low)), to = timeParts(wholeSeconds(high));
    if (String(from) === String(to)) return timeText(to);
    if (from.length === 1 && to.length === 1 && from[0][1] === to[0][1]) return from[0][0] + "–" + timeText(to);
    return span(timeText(from), timeText(to));
  }
  function wholeSeconds(value) {
    var up = Number(ceil(value));
    return up < 600 || up % 60 === 0 ? up : Math.ceil(up / 60) * 60;
  }
  function size(key) { return Number(unit(key).factor.n); }
  function timeParts(seconds) {
    for (var row of [["month", 1], ["week", 2], ["d", 1]]) {
      var length = size(row[0]);
      if (seconds >= row[1] * length && seconds % length === 0) return [[seconds / length, row[0]]];
    }
    if (seconds < 120 && seconds % 60) return [[seconds, "s"]];
    if (seconds < 2 * size("d") && seconds % size("h") === 0 && seconds) return [[seconds / size("h"), "h"]];
    var found = [];
    ["d", "h", "min", "s"].forEach(key => {
      var number = Math.floor(seconds / size(key));
      seconds %= size(key);
      if (number) found.push([number, key]);
    });
    return found.length ? found : [[0, "s"]];
  }
  function timeText(found) {
    return found.map(pair => pair[0] + NO_BREAK + word(pair[1], many(whole(pair[0])))).join(" ");
  }
  function plates(number) {
    var shownAs = show({}, [term("plate", number)], AS_WRITTEN, listed(["1", "2", "3", "4", "8"], String(number.d)));
    return shownAs.head + shownAs.tail;
  }

  // How many times the dish as written, where that is twice or more either way.
  function times(factor) {
    var words = mixed(factor);
    if (words.indexOf("/") >= 0 || factor.d > 8n) {
      var hundredths = mul(factor, whole(100)), near = floor(hundredths), rest = sub(hundredths, whole(near)), side = cmp(rest, HALF);
      if (side > 0 || (side === 0 && near % 2n)) near += 1n;
      words = decimal(frac(near, 100n));
    }
    return fill(cmp(factor, ONE) > 0 ? fig.say.times : fig.say.of, { number: words });
  }

  // ---- a page's slots

  // A number as a cook types it: '7', '7.5', '7,5', '1/2', '2 1/2', '2½'; null for anything else, nothing and less.
  function typed(text) {
    var words = text.trim().replace(/[\u00bc-\u00be\u2150-\u215e]/g, sign => {
      var found = Object.keys(fig.vulgar).find(key => fig.vulgar[key] === sign);
      return found ? " " + found : "x";
    }).trim();
    var match = /^(?:(\d{1,4})(?:[.,](\d{1,3}))?|(?:(\d{1,4}) +)?(\d{1,3})\/(\d{1,3}))$/.exec(words);
    if (!match || (match[5] && !Number(match[5]))) return null;
    var value = match[5]
      ? add(whole(match[3] || 0), frac(BigInt(match[4]), BigInt(match[5])))
      : add(whole(match[1]), match[2] ? frac(BigInt(match[2]), 10n ** BigInt(match[2].length)) : ZERO);
    return value.n > 0n ? value : null;
  }

  // Terms of a slot: [unit, b], [unit, a, b] or [unit, a, b, a of the upper end, b of it]; so many times the dish, it is a + b × times.
  function termsAt(rows, factor) {
    return rows.map(row => {
      var at = (a, b) => add(read(a), mul(read(b), factor));
      if (row.length === 2) return term(row[0], mul(read(row[1]), factor));
      return term(row[0], at(row[1], row[2]), row.length > 3 ? at(row[3], row[4]) : null);
    });
  }
  function same(some, others) {
    return some.length === others.length && some.every((one, place) => {
      var other = others[place];
      return one.of === other.of && eq(one.low, other.low) && eq(one.high, other.high);
    });
  }

  // All words of one use: its amount, its name in the right number, its part.
  function use(slot, factor, measures) {
    var terms = termsAt(slot.t, factor), cook = termsAt(slot.r || slot.t, ONE);
    var asWritten = Boolean(slot.w) && same(terms, cook);
    var said = show(slot, terms, measures, asWritten), sum = total(terms), result = { head: said.head, tail: said.tail, name: "", part: "" };
    var rest = "";
    if (slot.q && slot.k && sum && sum.of.key === "piece" && eq(sum.low, sum.high)
        && !(same(terms, cook) && measures === AS_WRITTEN) && uneven(sum.low, slot.x)) rest = slot.q;
    if (slot.N) {
      result.name = slot.N[0];
      var was = total(cook), several = terms.reduce((all, one) => add(all, one.high), ZERO);
      if (rest && slot.Q) result.name = cmp(several, ONE) < 0 ? slot.Q[0] : slot.Q[cmp(several, TWO) >= 0 ? 2 : 1];
      else if (slot.N.length > 1 && was && sum && (slot.M || !same([was], [sum]))) {
        var plural = show(slot, terms, measures).plural;
        if ((cmp(was.high, ONE) > 0) !== plural) result.name = slot.N[1];
      }
    }
    if (slot.P && !rest) result.part = slot.P[sum && cmp(sum.high, ONE) > 0 ? 1 : 0];
    if (slot.K) {
      // What the dish makes: its noun goes by the sum, bare pieces by what is shown.
      var more = slot.K[2] ? said.plural : cmp(total(cook).high, ONE) > 0 === cmp(sum.high, ONE) > 0 ? false : true;
      result.head += " " + slot.K[more ? 1 : 0];
    }
    return result;
  }

  function line(slot, words) {
    return [words.head, slot.L[0], words.name].filter(Boolean).join(" ") + words.tail + (words.part ? ", " + words.part : "") + slot.L[1];
  }
  // N name, S remark; what is used up has terms, what is one a plate C pieces and I its singular; R a remark but for the dish as written.
  function gear(slot, factor, measures, forPlates) {
    var name = slot.N, remark = [slot.S], one = eq(factor, ONE);
    if (slot.t) {
      var terms = termsAt(slot.t, factor), sum = total(terms), said = one || !sum ? show(slot, terms, measures, one) : null;
      name = (said ? said.head + said.tail : shopping(sum, measures)) + " " + name;
    } else if (slot.C) {
      var number = Number(ceil(mul(whole(slot.C), factor)));
      name = number + " " + (number > 1 ? name : slot.I);
    }
    if (slot.R && !one) remark.push(slot.R === 1 ? forPlates && fill(fig.say.forPlates, { plates: forPlates }) : slot.R);
    return { name: (slot.T ? slot.T + " " : "") + name, remark: remark.filter(Boolean).join(", ") };
  }

  return {
    read: read, typed: typed, mul: mul, div: div, add: add, sub: sub, cmp: cmp, eq: eq, one: ONE, zero: ZERO, text: mixed, fill: fill,
    use: use, line: line, gear: gear, duration: duration, plates: plates, times: times, ceil: ceil,
  };
})();
