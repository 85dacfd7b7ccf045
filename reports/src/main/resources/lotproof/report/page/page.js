"use strict";
(function () {
  var form = document.getElementById("find");
  var field = document.getElementById("serial");
  var found = document.getElementById("found");
  var serials = Array.from(document.querySelectorAll("td.serial"));

  function show(text) {
    var wanted = text.trim().toLowerCase();
    var rows = new Set();
    var tables = new Set();
    document.querySelectorAll("tr.hit, tr.miss").forEach(function (row) {
      row.classList.remove("hit", "miss");
    });
    document.body.classList.toggle("finding-unit", wanted !== "");
    if (wanted === "") {
      found.textContent = "";
      return;
    }
    serials.forEach(function (cell) {
      var row = cell.parentNode;
      var hit = cell.textContent.toLowerCase().includes(wanted);
      if (hit) {
        row.classList.remove("miss");
        row.classList.add("hit");
        rows.add(row);
        tables.add(row.closest("table"));
      } else if (!row.classList.contains("hit")) {
        row.classList.add("miss");
      }
    });
    tables.forEach(function (table) {
      var fold = table.closest("details");
      if (fold) { fold.open = true; }
    });
    found.textContent = rows.size === 0
      ? "No such unit."
      : rows.size + (rows.size === 1 ? " row in " : " rows in ") +
        tables.size + (tables.size === 1 ? " table" : " tables") + "; other rows are hidden.";
  }

  if (serials.length > 0) {
    form.hidden = false;
    field.addEventListener("input", function () { show(field.value); });
    form.addEventListener("submit", function (event) {
      event.preventDefault();
      var first = document.querySelector("tr.hit");
      if (first) { first.scrollIntoView({ block: "center" }); }
    });
  }

  function key(row, column) {
    var cell = row.cells[column];
    if (cell.classList.contains("none")) { return null; }
    return cell.hasAttribute("data-v") ? Number(cell.dataset.v) : cell.textContent.toLowerCase();
  }

  function compare(a, b) {
    if (typeof a === "number") { return a - b; }
    return a.localeCompare(b, "en", { numeric: true });
  }

  document.querySelectorAll("table").forEach(function (table) {
    var body = table.tBodies[0];
    if (2 > body.rows.length) { return; }
    Array.from(table.tHead.rows[0].cells).forEach(function (head, column) {
      var button = document.createElement("button");
      button.type = "button";
      button.title = "Sort by this column";
      while (head.firstChild) { button.appendChild(head.firstChild); }
      head.appendChild(button);
      button.addEventListener("click", function () {
        var down = head.getAttribute("aria-sort") === "ascending";
        Array.from(head.parentNode.cells).forEach(function (other) {
          other.removeAttribute("aria-sort");
        });
        head.setAttribute("aria-sort", down ? "descending" : "ascending");
        Array.from(body.rows).map(function (row, index) {
          return { row: row, key: key(row, column), index: index };
        }).sort(function (a, b) {
          if (a.key === null || b.key === null) {
            return (a.key === null ? 1 : 0) - (b.key === null ? 1 : 0) || a.index - b.index;
          }
          return (down ? -1 : 1) * compare(a.key, b.key) || a.index - b.index;
        }).forEach(function (entry) { body.appendChild(entry.row); });
      });
    });
  });

  var opened = [];
  window.addEventListener("beforeprint", function () {
    document.querySelectorAll("details.step:not([open])").forEach(function (step) {
      step.open = true;
      opened.push(step);
    });
  });
  window.addEventListener("afterprint", function () {
    opened.forEach(function (step) { step.open = false; });
    opened = [];
  });
})();
