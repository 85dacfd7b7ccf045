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
    var lots = form.querySelector("select");
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
    // every fold open, so that everything is looked at
    document.querySelectorAll("details:not(.level)").forEach(function (fold) { fold.open = true; });
    var away = shortened();
    var result = await axe.run(document, { resultTypes: ["violations"] });
    away.forEach(function (rows) { rows.body.append(...rows.taken); });
    found.violations = result.violations.map(function (one) {
      return one.id + ": " + one.nodes.length + " places, such as " + one.nodes[0].html.slice(0, 200);
    });
    found.rules = result.passes.length;
    chart();
    sorting();
    judging();
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
