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

  function chart() {
    var plot = document.querySelector(".plot");
    plot.focus();
    var readout = plot.querySelector(".readout");
    found.atFocus = readout.textContent;
    key(plot, "ArrowRight");
    found.afterRight = readout.textContent;
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
    var table = document.getElementById("figures");
    var column = Array.from(table.tHead.rows[0].cells)
      .findIndex(function (head) { return head.textContent.startsWith("Printable"); });
    table.tHead.rows[0].cells[column].querySelector("button").click();
    found.sorted = Array.from(table.tBodies[0].rows)
      .map(function (row) { return Number(row.cells[column].dataset.v); });
    found.sortedAs = table.tHead.rows[0].cells[column].getAttribute("aria-sort");
  }

  function finding() {
    var field = document.getElementById("serial");
    var serial = document.querySelector("td.serial").textContent;
    field.value = serial;
    field.dispatchEvent(new Event("input"));
    found.serial = serial;
    found.found = document.getElementById("found").textContent;
    found.hits = Array.from(document.querySelectorAll("tr.hit")).every(function (row) {
      return row.textContent.includes(serial);
    }) ? document.querySelectorAll("tr.hit").length : 0;
    field.value = "";
    field.dispatchEvent(new Event("input"));
  }

  function explaining() {
    var broken = [];
    document.querySelectorAll("header a[href^='#']").forEach(function (link) {
      if (!document.getElementById(link.getAttribute("href").slice(1))) { broken.push(link.href); }
    });
    found.broken = broken;
    found.evidenceLinks = document.querySelectorAll("header a.why").length;
    document.querySelector("header .number a").click();
    var target = document.getElementById(location.hash.slice(1));
    found.explained = target.textContent.includes(", row ");
  }

  try {
    // every fold open, so that everything is looked at
    document.querySelectorAll("details").forEach(function (fold) { fold.open = true; });
    var away = shortened();
    var result = await axe.run(document, { resultTypes: ["violations"] });
    away.forEach(function (rows) { rows.body.append(...rows.taken); });
    found.violations = result.violations.map(function (one) {
      return one.id + ": " + one.nodes.length + " places, such as " + one.nodes[0].html.slice(0, 200);
    });
    found.rules = result.passes.length;
    chart();
    sorting();
    finding();
    explaining();
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
