"use strict";
// The page says everything without this script, at the level and figure that were asked for.
// It is read as XML too, so that no sign of less-than and no ampersand may stand in it.
(function () {
  const all = (selector, within) => Array.from((within || document).querySelectorAll(selector));
  const data = (element) => JSON.parse(element.querySelector("script").textContent);
  const SVG = "http://www.w3.org/2000/svg";

  function element(name, attributes) {
    const made = document.createElementNS(SVG, name);
    Object.keys(attributes).forEach((key) => made.setAttribute(key, attributes[key]));
    return made;
  }

  /* A number as people read it: five digits at most, no exponent. */
  function number(value, digits) {
    const rounded = Number(value.toPrecision(digits || 5));
    return String(rounded).replace("-", "\u2212");
  }

  // ---- charts: what lies where, and what is lit

  function Plot(plot) {
    const chart = data(plot);
    const svg = plot.querySelector("svg");
    const frame = svg.dataset.frame.split(" ").map(Number);
    const lit = element("g", { "class": "lit" });
    const own = element("g", { "class": "own" });
    svg.append(own, lit);
    this.element = plot;
    this.chart = chart;
    this.svg = svg;
    this.x = (value) =>
      frame[0] + (value - frame[4]) / (frame[5] - frame[4]) * (frame[2] - frame[0]);
    this.y = (value) =>
      frame[3] - (value - frame[6]) / (frame[7] - frame[6]) * (frame[3] - frame[1]);

    /* Lights the points that are wanted; dims all others if there are any. */
    this.light = (wanted) => {
      lit.replaceChildren();
      chart.series.forEach((series) => series[1].forEach((point) => {
        if (wanted(series[0], point)) {
          lit.append(element("circle", { cx: this.x(point[0]), cy: this.y(point[1]), r: 3 }));
        }
      }));
      svg.classList.toggle("dimmed", lit.childElementCount > 0);
      return lit.childElementCount;
    };

    /* Draws lines across at these values, as far as the chart reaches. */
    this.across = (values) => {
      own.replaceChildren();
      values.map(this.y).forEach((y) => {
        if (y > frame[1] ? frame[3] > y : false) {
          own.append(element("line", { x1: frame[0], x2: frame[2], y1: y, y2: y }));
        }
      });
    };
  }

  const plots = all(".plot").map((plot) => new Plot(plot));
  const plotsIn = (place) => plots.filter((plot) => place.contains(plot.element));

  /* The units of a run's name: cell × board, run. */
  function unitsOf(name) {
    const units = name.slice(0, Math.max(0, name.lastIndexOf(", "))).split(" × ");
    return units.length === 2 ? units : [];
  }

  // ---- what is known of a unit, from the list of units

  const cards = new Map();
  const heads = all("#unit-list thead th").map((head) => head.textContent.trim());
  all("#unit-list tbody tr").forEach((row) => {
    const cells = Array.from(row.cells).map((cell) => cell.textContent.trim());
    const known = cells.map((text, column) => heads[column] + " " + text)
      .filter((text, column) => column > 0 ? !["", "-"].includes(cells[column]) : false);
    cards.set(cells[0], { lot: cells[2], words: cells[0] + ": " + known.join("; ") });
  });
  const lotOf = (unit) => (cards.has(unit) ? cards.get(unit).lot : "");

  /* The units that a point of a chart is about. */
  function unitsAt(name, point) {
    return point[2] ? point[2].split(" × ") : unitsOf(name);
  }

  /* Lights units in every chart; without any, what was kept lit. */
  function lightUnits(units) {
    plots.forEach((plot) => plot.light(units.length === 0 ? plot.kept || (() => false)
      : (name, point) => unitsAt(name, point).some((unit) => units.includes(unit))));
  }

  // ---- values of a chart: at the pointer, or from mark to mark with the arrow keys

  function readable(plot) {
    const chart = plot.chart;
    const series = chart.series.slice();
    if (chart.marks.length > 0) {
      series.push(["lines", chart.marks.map((mark) => {
        const points = chart.series.flatMap((one) => one[1]);
        const middle = points[Math.floor(points.length / 2)] || [0, 0];
        return mark[2] === 1 ? [mark[1], middle[1], mark[0], chart.x]
          : [middle[0], mark[1], mark[0], chart.y];
      })]);
    }
    const marks = series.flatMap((one, s) =>
      one[1].map((point) => ({ x: point[0], y: point[1], name: one[0], point: point, series: s })));
    if (marks.length === 0) { return; }
    const place = plot.element;
    const readout = document.createElement("p");
    readout.className = "readout";
    readout.setAttribute("role", "status");
    place.append(readout);
    place.tabIndex = 0;
    place.setAttribute("role", "application");
    place.setAttribute("aria-label", "Values of: " + place.dataset.question +
      " Left and right go from mark to mark, up and down from group to group.");
    const ring = element("circle", { "class": "pointer", r: 7 });
    let current = -1;

    function value(axis, at) {
      if (axis.scale === "WORDS") { return axis.words[Math.round(at)]; }
      if (axis.scale === "FRACTION") { return number(100 * at) + " %"; }
      const plain = axis.scale === "LOGARITHMIC" ? Math.pow(10, at) : at;
      return number(plain) + (axis.unit ? " " + axis.unit : "");
    }

    function words(mark) {
      const axis = mark.point[3];
      if (axis) { return [mark.point[2] + ": " + value(axis, axis === chart.x ? mark.x : mark.y)]; }
      const inRows = chart.y.scale === "WORDS";
      const units = unitsAt(mark.name, mark.point);
      const label = mark.point[2] ? mark.point[2] + ", " : "";
      const line = inRows ? value(chart.y, mark.y) + ": " + value(chart.x, mark.x)
        : label + value(chart.x, mark.x) + ": " + value(chart.y, mark.y);
      return [line].concat(units.filter((unit) => cards.has(unit))
        .map((unit) => cards.get(unit).words));
    }

    function hide() {
      readout.textContent = "";
      ring.remove();
      current = -1;
      lightUnits([]);
    }

    function show(index) {
      const mark = marks[index];
      current = index;
      lightUnits(unitsAt(mark.name, mark.point).filter((unit) => cards.has(unit)));
      plot.svg.append(ring);
      ring.setAttribute("cx", plot.x(mark.x));
      ring.setAttribute("cy", plot.y(mark.y));
      readout.textContent = "";
      const name = document.createElement("b");
      name.textContent = series.length > 1 ? mark.name : "";
      readout.append(name);
      words(mark).forEach((line) => {
        const part = document.createElement("span");
        part.textContent = line;
        readout.append(part, document.createElement("br"));
      });
      const scale = plot.svg.getBoundingClientRect().width / plot.svg.viewBox.baseVal.width;
      const room = place.clientWidth + place.scrollLeft - readout.offsetWidth - 4;
      readout.style.left = Math.max(4, Math.min(room, plot.x(mark.x) * scale + 12)) + "px";
      const above = plot.y(mark.y) * scale - readout.offsetHeight - 12;
      readout.style.top = (above > 0 ? above : plot.y(mark.y) * scale + 14) + "px";
    }

    function nearest(event) {
      const at = new DOMPoint(event.clientX, event.clientY)
        .matrixTransform(plot.svg.getScreenCTM().inverse());
      let best = -1;
      let least = 30;
      marks.forEach((mark, i) => {
        // of marks drawn in one place, the last lies on top and is the one seen
        const far = Math.hypot(plot.x(mark.x) - at.x, plot.y(mark.y) - at.y);
        if (least >= far) {
          least = far;
          best = i;
        }
      });
      if (best === -1) { hide(); } else if (best !== current) { show(best); }
    }

    /* The mark of the next or previous group that lies nearest in the horizontal. */
    function beside(step) {
      const group = marks[current].series + step;
      let best = current;
      let least = Infinity;
      marks.forEach((mark, i) => {
        const off = Math.abs(mark.x - marks[current].x);
        if (mark.series === group ? least > off : false) {
          least = off;
          best = i;
        }
      });
      return best;
    }

    place.addEventListener("pointermove", nearest);
    place.addEventListener("pointerdown", nearest);
    place.addEventListener("pointerleave", () => {
      if (document.activeElement !== place) { hide(); }
    });
    place.addEventListener("focus", () => { if (current === -1) { show(0); } });
    place.addEventListener("blur", hide);
    place.addEventListener("keydown", (event) => {
      const from = Math.max(0, current);
      const last = marks.length - 1;
      const to = {
        ArrowRight: Math.min(last, from + 1), ArrowLeft: Math.max(0, from - 1), Home: 0, End: last
      }[event.key];
      if (event.key === "Escape") {
        hide();
      } else if (to !== undefined) {
        event.preventDefault();
        show(to);
      } else if (event.key === "ArrowDown" || event.key === "ArrowUp") {
        event.preventDefault();
        current = from;
        show(beside(event.key === "ArrowDown" ? 1 : -1));
      }
    });
  }
  plots.forEach(readable);

  // ---- one level at a time

  const levels = all(".level");

  function choose(id) {
    levels.forEach((level) => {
      level.open = level.id === id;
      level.classList.toggle("chosen", level.id === id);
    });
    all("#levels tbody tr").forEach((row) => {
      const chosen = row.dataset.level === id;
      row.classList.toggle("chosen", chosen);
      row.querySelector("input").checked = chosen;
    });
  }

  if (levels.length > 0) {
    all("#levels tbody tr").forEach((row) => {
      const button = document.createElement("input");
      button.type = "radio";
      button.name = "level";
      row.querySelector("label").prepend(button, " ");
      row.addEventListener("click", () => choose(row.dataset.level));
      button.addEventListener("change", () => choose(row.dataset.level));
    });
    document.body.classList.add("chooses");
    choose(levels.find((level) => level.open).id);
  }

  // ---- any wanted figure, content and confidence, judged by the computed limits

  /* Between the points of the curve in straight lines of the log odds. */
  function confidence(curve, grams) {
    const odds = (p) => Math.log(p / (1 - p));
    const after = curve.findIndex((point) => point[0] > grams);
    if (curve.length === 0) { return ""; }
    if (after === 0) { return ", model confidence below " + number(100 * curve[0][1]) + " %"; }
    if (after === -1) {
      return ", model confidence above " + number(100 * curve[curve.length - 1][1]) + " %";
    }
    const from = curve[after - 1];
    const to = curve[after];
    const share = (grams - from[0]) / (to[0] - from[0]);
    const at = odds(from[1]) + share * (odds(to[1]) - odds(from[1]));
    return ", model confidence " + number(100 / (1 + Math.exp(-at)), 3) + " %";
  }

  levels.forEach((level) => {
    const form = level.querySelector(".trial");
    if (!form) { return; }
    const trial = data(form);
    const field = form.querySelector("input");
    const lots = form.querySelector(".lot");
    const content = form.querySelector(".content");
    const sure = form.querySelector(".sure");
    const answer = form.querySelector("output");
    const errors = plotsIn(level.querySelector(".first"))[0];

    function fill(list, column) {
      Array.from(new Set(trial.grid.map((point) => point[column]))).forEach((share) =>
        list.add(new Option(number(100 * share) + " %", share, false, share === trial.asked[column])));
      list.parentNode.hidden = list.options.length === 0;
      list.addEventListener("change", judge);
    }

    /* The limit for the chosen content and confidence; missing where none is known. */
    function limit() {
      if (trial.grid.length === 0) { return trial.limit; }
      const point = trial.grid.find((one) =>
        one[0] === Number(content.value) ? one[1] === Number(sure.value) : false);
      return point ? point[2] : null;
    }

    function judge() {
      const grams = Number(field.value);
      const asked = grams === trial.wanted;
      if (errors) { errors.across(asked || !(grams > 0) ? [] : trial.signs.map((s) => s * grams)); }
      const least = limit();
      if (least === null) {
        answer.className = "no";
        answer.textContent = "no figure: too few kits without a normal shape";
        return;
      }
      const steps = Math.ceil(least / trial.step - 1e-9);
      const smallest = least === trial.limit ? ""
        : "printable " + number(steps * trial.step) + " g" + (grams > 0 ? "; " : "");
      if (!(grams > 0)) {
        answer.textContent = smallest;
        return;
      }
      const yes = grams >= least;
      answer.className = yes ? "yes" : "no";
      answer.textContent = smallest + (yes
        ? "supported, margin " + number(grams - least, 3) + " g"
        : "not supported, " + number(least - grams, 3) + " g too tight") +
        (least === trial.limit ? confidence(trial.confidence, grams) : "");
    }

    if (errors) {
      const names = errors.chart.series.flatMap((series) => unitsOf(series[0]).map(lotOf));
      Array.from(new Set(names.filter((name) => name !== "")))
        .sort((a, b) => a.localeCompare(b, "en", { numeric: true }))
        .forEach((name) => lots.add(new Option(name, name)));
      lots.addEventListener("change", () => {
        all(".lot").forEach((other) => { other.value = lots.value; });
        plots.forEach((plot) => {
          plot.kept = lots.value === "" ? null
            : (name, point) => unitsAt(name, point).some((unit) => lotOf(unit) === lots.value);
        });
        lightUnits([]);
      });
    }
    form.hidden = false;
    form.addEventListener("submit", (event) => event.preventDefault());
    field.addEventListener("input", judge);
    field.value = trial.wanted || "";
    fill(content, 0);
    fill(sure, 1);
    judge();
  });

  // ---- words for the product page

  const POUND = 0.45359237; // kg, exactly (international yard and pound agreement, 1959)

  /* Ounces of a figure in grams, rounded outward to three digits. */
  function ounces(grams) {
    const value = grams / (1000 * POUND / 16);
    const step = Math.pow(10, Math.floor(Math.log10(value)) - 2);
    return number(Math.ceil(value / step - 1e-9) * step, 3);
  }

  function withPounds(words) {
    return words.replace(/([\d.]+) (k?g)\b/g, (metric, amount, unit) => metric +
      (unit === "kg" ? " (" + number(amount / POUND, 4) + " lb)" : " (" + ounces(amount) + " oz)"));
  }

  all(".copy").forEach((button) => {
    const panel = button.parentNode;
    const lines = all(".words p", panel);
    const metric = lines.map((line) => line.textContent);
    const choice = document.createElement("label");
    const pounds = document.createElement("input");
    pounds.type = "checkbox";
    pounds.className = "pounds";
    choice.append(pounds, " with lb and oz");
    button.before(choice, " ");
    pounds.addEventListener("change", () => lines.forEach((line, i) => {
      line.textContent = pounds.checked ? withPounds(metric[i]) : metric[i];
    }));
    button.hidden = false;
    button.addEventListener("click", () => {
      const range = document.createRange();
      range.selectNodeContents(panel.querySelector(".words"));
      const selected = window.getSelection();
      selected.removeAllRanges();
      selected.addRange(range);
      button.textContent = document.execCommand("copy") ? "Copied" : "Selected: copy it by hand";
    });
  });

  // ---- folds

  function unfold(target, opened) {
    const level = target.closest(".level");
    if (level ? !level.classList.contains("chosen") : false) { choose(level.id); }
    for (let at = target; at; at = at.parentElement) {
      if (at.tagName === "DETAILS" ? !at.open : false) {
        at.open = true;
        if (opened) { opened.push(at); }
      }
    }
  }

  function follow() {
    const id = location.hash.slice(1);
    const target = id ? document.getElementById(id) : null;
    if (target) {
      unfold(target);
      target.scrollIntoView();
    }
  }
  window.addEventListener("hashchange", follow);
  follow();

  // ---- find a unit: lit in charts and tables, Enter goes from hit to hit

  const find = document.getElementById("find");
  const field = document.getElementById("serial");
  const found = document.getElementById("found");
  const serials = all("td.serial");
  let hits = [];
  let at = -1;
  let opened = [];

  function search() {
    const wanted = field.value.trim().toLowerCase();
    const has = (text) => wanted !== "" ? text.toLowerCase().includes(wanted) : false;
    all("tr.hit").forEach((row) => row.classList.remove("hit", "current"));
    opened.forEach((fold) => { fold.open = false; });
    opened = [];
    at = -1;
    hits = serials.filter((cell) => has(cell.textContent)).map((cell) => cell.parentNode);
    hits.forEach((row) => row.classList.add("hit"));
    plots.forEach((plot) => {
      plot.kept = wanted === "" ? null
        : (name, point) => unitsAt(name, point).some(has);
    });
    lightUnits([]);
    found.textContent = wanted === "" ? ""
      : hits.length === 0 ? "No such unit."
      : hits.length === 1 ? "1 row" : hits.length + " rows; Enter goes through them";
  }

  function next() {
    if (hits.length === 0) { return; }
    all("tr.current").forEach((row) => row.classList.remove("current"));
    at = (at + 1) % hits.length;
    const row = hits[at];
    row.classList.add("current");
    unfold(row, opened);
    row.scrollIntoView({ block: "center" });
    found.textContent = "row " + (at + 1) + " of " + hits.length;
  }

  if (serials.length > 0) {
    find.hidden = false;
    field.addEventListener("input", search);
    find.addEventListener("submit", (event) => {
      event.preventDefault();
      next();
    });
  }

  // ---- tables sorted by a column

  function key(row, column) {
    const cell = row.cells[column];
    if (cell.classList.contains("none")) { return null; }
    return cell.hasAttribute("data-v") ? Number(cell.dataset.v) : cell.textContent.toLowerCase();
  }

  function compare(a, b) {
    if (typeof a === "number") { return a - b; }
    return a.localeCompare(b, "en", { numeric: true });
  }

  all("table:not(#levels)").forEach((table) => {
    const body = table.tBodies[0];
    if (2 > body.rows.length) { return; }
    Array.from(table.tHead.rows[0].cells).forEach((head, column) => {
      const button = document.createElement("button");
      button.type = "button";
      button.title = "Sort by this column";
      button.append(...head.childNodes);
      head.append(button);
      button.addEventListener("click", () => {
        const down = head.getAttribute("aria-sort") === "ascending";
        Array.from(head.parentNode.cells).forEach((other) => other.removeAttribute("aria-sort"));
        head.setAttribute("aria-sort", down ? "descending" : "ascending");
        Array.from(body.rows)
          .map((row, index) => ({ row: row, key: key(row, column), index: index }))
          .sort((a, b) => {
            if (a.key === null || b.key === null) {
              return (a.key === null ? 1 : 0) - (b.key === null ? 1 : 0) || a.index - b.index;
            }
            return (down ? -1 : 1) * compare(a.key, b.key) || a.index - b.index;
          })
          .forEach((entry) => body.append(entry.row));
      });
    });
  });

  // ---- print: everything of the chosen level open, the steps of the explanation as they are

  let printed = [];
  window.addEventListener("beforeprint", () => {
    printed = all(".fold:not([open])");
    printed.forEach((fold) => { fold.open = true; });
  });
  window.addEventListener("afterprint", () => {
    printed.forEach((fold) => { fold.open = false; });
  });
})();
