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

  // Values of a chart: at the pointer, or from mark to mark with the arrow keys.
  function readable(plot) {
    var series = JSON.parse(plot.querySelector("script").textContent);
    var marks = [];
    series.forEach(function (one, s) {
      one[1].forEach(function (mark, i) {
        marks.push({ x: mark[0], y: mark[1], words: mark[2], name: one[0], series: s, at: i });
      });
    });
    if (marks.length === 0) { return; }
    var readout = document.createElement("p");
    readout.className = "readout";
    readout.setAttribute("role", "status");
    plot.appendChild(readout);
    plot.tabIndex = 0;
    plot.setAttribute("role", "application");
    plot.setAttribute("aria-label", "Values of: " + plot.dataset.question +
      " Left and right go from mark to mark, up and down from curve to curve or group to group.");
    var ring = document.createElementNS("http://www.w3.org/2000/svg", "circle");
    ring.setAttribute("class", "pointer");
    ring.setAttribute("r", "7");
    var current = -1;

    function drawing() {
      var all = Array.from(plot.querySelectorAll("svg"));
      var svg = all.find(function (one) { return one.getClientRects().length > 0; }) || all[0];
      var f = svg.dataset.frame.split(" ").map(Number);
      return {
        svg: svg,
        scale: svg.getBoundingClientRect().width / svg.viewBox.baseVal.width,
        x: function (value) { return f[0] + (value - f[4]) / (f[5] - f[4]) * (f[2] - f[0]); },
        y: function (value) { return f[3] - (value - f[6]) / (f[7] - f[6]) * (f[3] - f[1]); }
      };
    }

    function hide() {
      readout.textContent = "";
      ring.remove();
      current = -1;
    }

    function showMark(index) {
      current = index;
      var mark = marks[index];
      var d = drawing();
      var x = d.x(mark.x);
      var y = d.y(mark.y);
      ring.setAttribute("cx", x);
      ring.setAttribute("cy", y);
      d.svg.appendChild(ring);
      readout.textContent = "";
      if (mark.name !== "") {
        var name = document.createElement("b");
        name.textContent = mark.name;
        readout.appendChild(name);
      }
      readout.appendChild(document.createTextNode(mark.words));
      var room = plot.clientWidth - readout.offsetWidth - 4;
      readout.style.left = Math.max(4, Math.min(room, x * d.scale + 12)) + "px";
      var above = y * d.scale - readout.offsetHeight - 12;
      readout.style.top = (above > 0 ? above : y * d.scale + 14) + "px";
    }

    function nearest(event) {
      var d = drawing();
      var at = new DOMPoint(event.clientX, event.clientY)
        .matrixTransform(d.svg.getScreenCTM().inverse());
      var best = -1;
      var least = 30;
      marks.forEach(function (mark, i) {
        // of marks drawn in one place, the last lies on top and is the one seen
        var far = Math.hypot(d.x(mark.x) - at.x, d.y(mark.y) - at.y);
        if (least >= far) {
          least = far;
          best = i;
        }
      });
      if (best === -1) { hide(); } else if (best !== current) { showMark(best); }
    }

    /* the mark of the next or previous group that lies nearest in the horizontal */
    function beside(step) {
      var group = marks[current].series + step;
      if (group === -1 || group === series.length) { return current; }
      var best = current;
      var least = Infinity;
      marks.forEach(function (mark, i) {
        var off = Math.abs(mark.x - marks[current].x);
        if (mark.series === group ? least > off : false) {
          least = off;
          best = i;
        }
      });
      return best;
    }

    plot.addEventListener("pointermove", nearest);
    plot.addEventListener("pointerdown", nearest);
    plot.addEventListener("pointerleave", function (event) {
      if (event.pointerType === "mouse" ? document.activeElement !== plot : false) { hide(); }
    });
    plot.addEventListener("focus", function () { if (current === -1) { showMark(0); } });
    plot.addEventListener("blur", hide);
    plot.addEventListener("keydown", function (event) {
      var to = current === -1 ? 0 : current;
      if (event.key === "Escape") { hide(); return; }
      if (event.key === "ArrowRight") { to = Math.min(marks.length - 1, to + 1); }
      else if (event.key === "ArrowLeft") { to = Math.max(0, to - 1); }
      else if (event.key === "Home") { to = 0; }
      else if (event.key === "End") { to = marks.length - 1; }
      else if (event.key === "ArrowDown" || event.key === "ArrowUp") {
        current = to;
        to = beside(event.key === "ArrowDown" ? 1 : -1);
      } else { return; }
      event.preventDefault();
      showMark(to);
    });
  }
  document.querySelectorAll(".plot").forEach(readable);

  // a link to evidence opens what it is folded into
  function unfold() {
    var target = location.hash.length > 1 ? document.getElementById(location.hash.slice(1)) : null;
    if (!target) { return; }
    for (var at = target; at; at = at.parentElement) {
      if (at.tagName === "DETAILS") { at.open = true; }
    }
    target.scrollIntoView();
  }
  window.addEventListener("hashchange", unfold);
  unfold();

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
