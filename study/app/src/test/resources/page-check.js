// Uses a page as a reader would and writes what it found into the page, for the test to read.
(async function () {
  "use strict";
  var found = { violations: [] };

  function key(target, name) {
    target.dispatchEvent(new KeyboardEvent("keydown", { key: name, bubbles: true, cancelable: true }));
  }

  // rows of a table are made alike, so some of a long one are enough for the slow check
  function shortened() {
    return Array.from(document.querySelectorAll("tbody")).map(function (body) {
      var taken = Array.from(body.rows).slice(8);
      taken.forEach(function (row) { row.remove(); });
      return { body: body, taken: taken };
    });
  }

  function shown(element) {
    return element.checkVisibility();
  }

  function folds(open) {
    document.querySelectorAll("details.fold").forEach(function (fold) { fold.open = open; });
  }

  function words() {
    return document.body.innerText.split(/\s+/).filter(function (word) { return word; }).length;
  }

  function channels(color) {
    return color.match(/[\d.]+/g).map(Number);
  }

  // the filter of charts in a dark room: invert(.91) hue-rotate(180deg), by its matrix in the standard
  function inverted(rgb) {
    var c = rgb.slice(0, 3).map(function (v) { return 255 * 0.91 - 0.82 * v; });
    return [[-0.574, 1.43, 0.144], [0.426, 0.43, 0.144], [0.426, 1.43, -0.856]].map(function (row) {
      return Math.min(255, Math.max(0, row[0] * c[0] + row[1] * c[1] + row[2] * c[2]));
    });
  }

  // WCAG 2.2: relative luminance and contrast ratio
  function luminance(rgb) {
    var linear = rgb.slice(0, 3).map(function (v) {
      return v / 255 <= 0.04045 ? v / 255 / 12.92 : Math.pow((v / 255 + 0.055) / 1.055, 2.4);
    });
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2];
  }

  function ratio(a, b) {
    var bright = Math.max(luminance(a), luminance(b));
    return (bright + 0.05) / (Math.min(luminance(a), luminance(b)) + 0.05);
  }

  // what the rules cannot measure: words over drawings, and words that scroll under an edge
  function contrast(element) {
    var style = getComputedStyle(element);
    if (element.closest("svg")) {
      var seen = found.dark ? inverted : function (rgb) { return rgb; };
      return Math.min.apply(null, [[255, 255, 255], [230, 238, 240]].map(function (paper) {
        return ratio(seen(channels(style.fill)), seen(paper));
      }));
    }
    for (var at = element; at; at = at.parentElement) {
      var behind = channels(getComputedStyle(at).backgroundColor);
      if (behind.length === 3) { return ratio(channels(style.color), behind); }
    }
    return 0;
  }

  async function accessibility() {
    var result = await axe.run(document, { resultTypes: ["violations", "incomplete"] });
    result.violations.forEach(function (one) {
      found.violations.push(
        one.id + ": " + one.nodes.length + " places, such as " + one.nodes[0].html.slice(0, 200));
    });
    result.incomplete.forEach(function (one) {
      one.nodes.forEach(function (node) {
        var measured = one.id === "color-contrast"
          ? contrast(document.querySelector(node.target[0])) : 0;
        found.measured = (found.measured || 0) + 1;
        if (4.5 > measured) {
          found.violations.push(one.id + " " + measured + ": " + node.html.slice(0, 200));
        }
      });
    });
    found.rules = result.passes.length;
  }

  function counts() {
    folds(false);
    found.wordsClosed = words();
    found.tabStops = Array.from(document.querySelectorAll(
      "a[href], button, input:not([type=radio]), input:checked, select, summary, [tabindex='0']"
    )).filter(shown).length;
    folds(true);
    found.wordsOpen = words();
    found.chartsAtOnce = Array.from(document.querySelectorAll(".plot")).filter(shown).length;
  }

  function chart() {
    var plot = document.querySelector(".level.chosen .plot") || document.querySelector("#evidence .plot");
    plot.focus();
    var readout = plot.querySelector(".readout");
    found.atFocus = readout.textContent;
    key(plot, "ArrowRight");
    found.afterRight = readout.textContent;
    found.litRuns = plot.querySelectorAll(".lit circle").length;
    key(plot, "ArrowDown");
    found.afterDown = readout.textContent;
    var ring = plot.querySelector(".pointer").getBoundingClientRect();
    key(plot, "Escape");
    found.afterEscape = readout.textContent;
    plot.blur();
    plot.dispatchEvent(new PointerEvent("pointermove", {
      clientX: ring.left + ring.width / 2, clientY: ring.top + ring.height / 2, bubbles: true }));
    found.atPointer = readout.textContent;
    found.charts = document.querySelectorAll(".plot").length;
    found.chartsWithKeys = document.querySelectorAll(".plot[tabindex='0']").length;
  }

  function sorting() {
    var table = document.getElementById("unit-list");
    var column = Array.from(table.tHead.rows[0].cells)
      .findIndex(function (head) { return head.textContent.startsWith("Sensitivity"); });
    table.tHead.rows[0].cells[column].querySelector("button").click();
    found.sorted = Array.from(table.tBodies[0].rows)
      .map(function (row) { return Number(row.cells[column].dataset.v); });
    found.sortedAs = table.tHead.rows[0].cells[column].getAttribute("aria-sort");
  }

  function choosing() {
    var rows = document.querySelectorAll("#levels tbody tr");
    var last = rows[rows.length - 1];
    last.querySelector("input").click();
    found.chosen = Array.from(document.querySelectorAll(".level")).filter(shown)
      .map(function (level) { return level.id; });
    found.wasChosen = last.dataset.level;
  }

  function judging() {
    var form = document.querySelector(".level.chosen .trial");
    if (!form) { return; }
    var field = form.querySelector("input");
    var trial = JSON.parse(form.querySelector("script").textContent);
    found.judged = [0.99, 1.01, 2].map(function (times) {
      field.value = times * trial.limit;
      field.dispatchEvent(new Event("input"));
      return form.querySelector("output").textContent;
    });
    var plot = document.querySelector(".level.chosen .plot");
    found.ownLines = plot.querySelectorAll(".own line").length;
    var content = form.querySelector(".content");
    content.selectedIndex = content.options.length - 1;
    content.dispatchEvent(new Event("change"));
    found.judgedElse = form.querySelector("output").textContent;
    found.contents = content.options.length * form.querySelector(".sure").options.length;
    content.value = trial.asked[0];
    content.dispatchEvent(new Event("change"));
    found.judgedAgain = form.querySelector("output").textContent;
    var lots = form.querySelector(".lot");
    found.lots = Array.from(lots.options).map(function (option) { return option.value; });
    lots.selectedIndex = 1;
    lots.dispatchEvent(new Event("change"));
    found.litLot = plot.querySelectorAll(".lit circle").length;
    lots.selectedIndex = 0;
    lots.dispatchEvent(new Event("change"));
    found.litAll = plot.querySelectorAll(".lit circle").length;
  }

  function finding() {
    folds(false);
    var field = document.getElementById("serial");
    var serial = document.querySelector("#unit-list td.serial").textContent;
    field.value = serial;
    field.dispatchEvent(new Event("input"));
    found.found = document.getElementById("found").textContent;
    var hits = Array.from(document.querySelectorAll("tr.hit"));
    found.hits = hits.every(function (row) { return row.textContent.includes(serial); })
      ? hits.length : 0;
    found.litUnit = document.querySelectorAll(".level.chosen .lit circle").length;
    document.getElementById("find").dispatchEvent(new Event("submit", { cancelable: true }));
    found.steppedTo = shown(document.querySelector("tr.current"));
    field.value = "";
    field.dispatchEvent(new Event("input"));
    found.foldsLeftOpen = document.querySelectorAll("details.fold[open]").length;
  }

  function printing() {
    var panel = document.querySelector(".level.chosen .product");
    if (!panel) { return; }
    var words = panel.querySelector(".words");
    found.metric = words.textContent;
    panel.querySelector(".pounds").click();
    found.pounds = words.textContent;
    panel.querySelector(".pounds").click();
    found.metricAgain = words.textContent;
  }

  function explaining() {
    var links = Array.from(document.querySelectorAll("a.why"));
    found.broken = links.map(function (link) { return link.getAttribute("href").slice(1); })
      .filter(function (id) { return !document.getElementById(id); });
    found.evidenceLinks = links.length;
    var tree = document.querySelector(".level.chosen .explanation");
    found.explained = tree ? tree.textContent.includes(", row ") : true;
  }

  try {
    counts();
    found.dark = matchMedia("(prefers-color-scheme: dark)").matches;
    folds(false);
    await accessibility();
    // every fold open, so that everything is looked at
    document.querySelectorAll("details:not(.level)").forEach(function (fold) { fold.open = true; });
    var away = shortened();
    await accessibility();
    away.forEach(function (rows) { rows.body.append(...rows.taken); });
    chart();
    sorting();
    judging();
    printing();
    explaining();
    choosing();
    finding();
    var root = document.scrollingElement;
    found.sticksOut = Math.max(0, root.scrollWidth - root.clientWidth);
    found.fetched = performance.getEntriesByType("resource")
      .filter(function (one) { return !one.name.startsWith("data:"); }).length;
  } catch (trouble) {
    found.trouble = String(trouble && trouble.stack || trouble);
  }
  var outcome = document.createElement("pre");
  outcome.id = "outcome";
  outcome.textContent = "BEGIN" + btoa(unescape(encodeURIComponent(JSON.stringify(found)))) + "END";
  document.body.appendChild(outcome);
})();
