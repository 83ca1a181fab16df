// Only for the page of a sweep: a map of any two keys, the chart of one key against another, a table that sorts and
// filters, two designs side by side. Uses report.js, which precedes it.
(() => {
  "use strict";
  const holder = document.getElementById("sweep");
  if (!holder) return;
  const { figure, style, units } = window.coilwrightPage;
  const data = JSON.parse(holder.querySelector("script").textContent);
  const { keys, axes, figures, designs } = data;
  const svgNamespace = "http://www.w3.org/2000/svg";
  let redraw = [];

  // ---- Words ----

  const prefixes = ["p", "n", "\u00b5", "m", "", "k", "M", "G"];
  /** "1.04 kW": three figures with a prefix, as everywhere in the page. */
  const amount = (value, unit) => {
    if (value === null || value === undefined) return "\u2013";
    if (unit === "degC") return figure(units().fahrenheit ? value * 1.8 + 32 : value) + (units().fahrenheit ? "\u00a0\u00b0F" : "\u00a0\u00b0C");
    if (unit === "m") return units().inches ? figure(value / 0.0254) + "\u00a0in" : figure(value * 1000) + "\u00a0mm";
    if (unit === "" || unit === "%") return figure(value) + (unit ? "\u00a0%" : "");
    const rounded = Number(value.toPrecision(3));
    const power = rounded === 0 ? 0 : Math.max(-4, Math.min(3, Math.floor(Math.log10(Math.abs(rounded)) / 3 + 1e-12)));
    return figure(rounded / 1000 ** power) + "\u00a0" + prefixes[power + 4] + (unit === "ohm" ? "\u03a9" : unit);
  };
  /** A value of a key as written; lengths in inches if these are chosen. */
  const written = (value) => {
    const length = /^([0-9.]+) mm$/.exec(value);
    return length && units().inches ? figure(Number(length[1]) / 25.4) + "\u00a0in" : value.replace(" ", "\u00a0");
  };
  const place = (row) => String(designs[row].place);
  const spoken = (row) => keys.map((key, k) => key + "\u00a0" + written(designs[row].values[k])).join(", ");
  const named = (row) => place(row) + ": " + spoken(row) + (designs[row].kept ? "" : " (exceeds a limit)");
  const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);
  const titled = (f) => f.name + (f.unit ? ` [${f.unit === "degC" ? (units().fahrenheit ? "\u00b0F" : "\u00b0C") : f.unit}]` : "");

  const option = (select, value, text) => {
    const element = document.createElement("option");
    element.value = value;
    element.textContent = text;
    select.append(element);
  };
  const chooser = (form, label, choices, first, changed) => {
    const outer = document.createElement("label"), select = document.createElement("select");
    outer.append(label + " ", select);
    choices.forEach((text, k) => option(select, k, text));
    select.value = first;
    select.addEventListener("change", changed);
    form.append(outer, " ");
    return select;
  };

  // ---- Two designs side by side ----

  let chosen = [0, Math.min(1, designs.length - 1)];
  const compareTable = document.querySelector("#compare table");
  const cells = (row, texts) => {
    texts.forEach((text, k) => {
      const cell = document.createElement(k === 0 ? "th" : "td");
      if (k === 0) cell.scope = "row";
      cell.textContent = text;
      row.append(cell);
    });
    return row;
  };
  /** Difference of B from A: as a share of A; for shares and temperatures absolute. "the same" if both are shown alike. */
  const difference = (a, b, unit) => {
    if (a === null || b === null) return "";
    if (amount(a, unit) === amount(b, unit)) return "the same";
    const signed = (value, words) => (value > 0 ? "+" : "\u2212") + figure(Math.abs(value)) + "\u00a0" + words;
    if (unit === "%") return signed(b - a, "points");
    if (unit === "degC") return units().fahrenheit ? signed(1.8 * (b - a), "\u00b0F") : signed(b - a, "K");
    return a === 0 ? "" : signed(100 * (b / a - 1), "%");
  };
  const compare = () => {
    const [a, b] = chosen.map((row) => designs[row]);
    const bodies = [document.createElement("tbody"), document.createElement("tbody")];
    bodies[0].append(cells(document.createElement("tr"), ["Place", ...chosen.map(place), ""]));
    keys.forEach((key, k) =>
      bodies[0].append(cells(document.createElement("tr"),
        [capital(key), written(a.values[k]), written(b.values[k]), a.values[k] === b.values[k] ? "the same" : ""])));
    figures.forEach((f, k) => {
      if (a.figures[k] === null && b.figures[k] === null) return;
      bodies[1].append(cells(document.createElement("tr"),
        [capital(f.name), amount(a.figures[k], f.unit), amount(b.figures[k], f.unit), difference(a.figures[k], b.figures[k], f.unit)]));
    });
    for (const old of [...compareTable.tBodies]) old.remove();
    compareTable.append(...bodies);
    document.querySelectorAll("#compare .command code").forEach((code, k) => { code.textContent = [a, b][k].command; });
  };
  const selects = [...document.querySelectorAll(".pair-choice select")];
  const pick = (which, row) => {
    chosen[which] = row;
    selects[which].value = row;
    const button = document.querySelector(`.designs input[name=pick-${"ab"[which]}][value="${row}"]`);
    if (button) button.checked = true;
    compare();
    for (const draw of redraw) draw();
  };
  if (compareTable) {
    const form = document.querySelector(".pair-choice");
    form.hidden = false;
    form.addEventListener("submit", (event) => event.preventDefault());
    selects.forEach((select, which) => {
      designs.forEach((design, row) => option(select, row, named(row)));
      select.addEventListener("change", () => pick(which, Number(select.value)));
    });
  }

  // ---- The table ----

  const table = document.querySelector("table.designs");
  const rowsOf = () => [...table.tBodies[0].rows];
  const sortBy = (column, falling) => {
    const key = (row) => row.cells[column].dataset.sort;
    const rows = rowsOf().map((row) => [key(row), row]);
    const numeric = rows.every(([text]) => text === "" || !Number.isNaN(Number(text)));
    rows.sort(([a], [b]) => {
      if (a === "" || b === "") return (a === "") - (b === ""); // without a value: last, either way
      const order = numeric ? Number(a) - Number(b) : a.localeCompare(b, "en");
      return falling ? -order : order;
    });
    table.tBodies[0].append(...rows.map(([, row]) => row));
  };
  const makeSortable = () => {
    const heads = [...table.tHead.rows[0].cells].filter((cell) => !cell.classList.contains("pick"));
    heads.forEach((head, column) => {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = head.textContent;
      head.replaceChildren(button);
      button.addEventListener("click", () => {
        const falling = head.getAttribute("aria-sort") === "ascending";
        for (const other of heads) other.removeAttribute("aria-sort");
        head.setAttribute("aria-sort", falling ? "descending" : "ascending");
        sortBy(column, falling);
      });
    });
    heads[0].setAttribute("aria-sort", "ascending");
  };
  const makeFilters = () => {
    const form = document.querySelector(".filters");
    form.hidden = false;
    const plain = (text) => text.replaceAll("\u00a0", " ").toLowerCase();
    const apply = () => {
      const words = plain(form.words.value).split(/[,;]+/).map((word) => word.trim()).filter((word) => word);
      let count = 0;
      for (const row of rowsOf()) {
        // The row must contain each part of the filter: the value of a key with its name, or any text.
        const text = plain(keys.map((key, k) => key + " " + designs[Number(row.dataset.row)].values[k]).join(", ") + ", " + row.textContent) + ",";
        const fits = words.every((word) => (/\d$/.test(word) ? text.includes(word + ",") || text.includes(word + " ") : text.includes(word)));
        row.hidden = !fits || (form.kept.checked && row.dataset.kept !== "1");
        count += row.hidden ? 0 : 1;
      }
      form.querySelector("output").textContent = `${count} of ${designs.length} designs`;
    };
    form.addEventListener("input", apply);
    form.addEventListener("submit", (event) => event.preventDefault());
    apply();
  };
  if (table) {
    makeSortable();
    makeFilters();
    for (const button of table.querySelectorAll("input[type=radio]")) {
      button.disabled = false;
      button.addEventListener("change", () => pick(button.name === "pick-a" ? 0 : 1, Number(button.value)));
    }
  }

  // ---- The map ----

  const put = (parent, name, attributes, text) => {
    const element = document.createElementNS(svgNamespace, name);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    if (text !== undefined) element.textContent = text;
    parent.append(element);
    return element;
  };
  const colourOf = (share) => data.colours[Math.round(share * (data.colours.length - 1))];
  const letters = (share) => (share > 0.45 ? "#ffffff" : "#1c2026");
  const breaks = (row) => row !== undefined && !designs[row].kept;

  const makeMap = (element) => {
    const form = element.querySelector(".choose"), plane = element.querySelector(".live"), line = element.querySelector(".reading");
    form.hidden = plane.hidden = false;
    let at = null, grid = new Map();
    const draw = () => {
      const [across, up, shown] = [across_.value, up_.value, shown_.value].map(Number);
      const columns = axes[across], rows = axes[up];
      const best = designs[0];
      grid = new Map();
      designs.forEach((design, row) => {
        const others = keys.every((_, k) => k === across || k === up || design.values[k] === best.values[k]);
        const cell = columns.indexOf(design.values[across]) + columns.length * rows.indexOf(design.values[up]);
        if (others && !grid.has(cell) && design.figures[shown] !== null) grid.set(cell, row);
      });
      const values = [...grid.values()].map((row) => designs[row].figures[shown]);
      const low = Math.min(...values), span = Math.max(...values) - low || 1;
      const share = (row) => (designs[row].figures[shown] - low) / span;
      const sheet = plane.clientWidth < 560 ? 420 : 720, field = sheet - 220; // a telephone has no room for more
      const left = 96, top = 14, wide = field / columns.length, tall = Math.max(160, Math.min(400, 40 * rows.length)) / rows.length;
      const height = tall * rows.length, corner = (cell) => [left + wide * (cell % columns.length), top + height - tall * (1 + Math.floor(cell / columns.length))];
      const svg = document.createElementNS(svgNamespace, "svg");
      svg.setAttribute("viewBox", `0 0 ${sheet} ${height + 78}`);
      svg.setAttribute("font-family", "inherit");
      for (const [cell, row] of grid) {
        const [x, y] = corner(cell);
        put(svg, "rect", { x, y, width: wide + 0.3, height: tall + 0.3, fill: colourOf(share(row)) });
        const words = figure(designs[row].figures[shown]) + (breaks(row) ? " !" : "");
        if (wide > 44 && tall > 16)
          put(svg, "text", { x: x + wide / 2, y: y + tall / 2 + 4, "text-anchor": "middle", "font-size": 11, fill: letters(share(row)) }, words);
        else if (breaks(row) && wide > 8 && tall > 12)
          put(svg, "text", { x: x + wide / 2, y: y + tall / 2 + 4, "text-anchor": "middle", "font-size": 11, fill: letters(share(row)) }, "!");
      }
      // The line between designs that keep every limit and those that break one.
      for (const [cell, row] of grid) {
        const [x, y] = corner(cell), right = grid.get(cell + 1), above = grid.get(cell + columns.length);
        const edge = { stroke: style("--accent"), "stroke-width": 4, "stroke-linecap": "round" };
        if ((cell + 1) % columns.length && right !== undefined && breaks(row) !== breaks(right))
          put(svg, "line", { x1: x + wide, y1: y, x2: x + wide, y2: y + tall, ...edge });
        if (above !== undefined && breaks(row) !== breaks(above)) put(svg, "line", { x1: x, y1: y, x2: x + wide, y2: y, ...edge });
      }
      put(svg, "rect", { x: left, y: top, width: field, height, fill: "none", stroke: style("--faint") });
      const quiet = { "font-size": 11, fill: style("--faint") }, each = (step, room) => Math.max(1, Math.ceil(room / step));
      columns.forEach((value, k) => k % each(wide, 52) || put(svg, "text", { x: left + wide * (k + 0.5), y: top + height + 16, "text-anchor": "middle", ...quiet }, written(value)));
      rows.forEach((value, k) => k % each(tall, 15) || put(svg, "text", { x: left - 7, y: top + height - tall * (k + 0.5) + 4, "text-anchor": "end", ...quiet }, written(value)));
      put(svg, "text", { x: left + field / 2, y: top + height + 36, "text-anchor": "middle", "font-size": 12, fill: style("--ink") }, keys[across]);
      put(svg, "text", { x: 18, y: top + height / 2, "text-anchor": "middle", "font-size": 12, fill: style("--ink"), transform: `rotate(-90 18 ${top + height / 2})` }, keys[up]);
      data.colours.forEach((colour, k) => put(svg, "rect", { x: sheet - 94, y: top + height * (1 - (k + 1) / data.colours.length), width: 16, height: height / data.colours.length + 0.5, fill: colour }));
      for (let k = 0; k <= 4; ++k)
        put(svg, "text", { x: sheet - 72, y: top + height * (1 - k / 4) + 4, "font-size": 11, fill: style("--ink") }, figure(low + (span * k) / 4));
      put(svg, "text", { x: sheet - 4, y: top + height + 58, "text-anchor": "end", "font-size": 12, fill: style("--ink") }, "colour: " + titled(figures[shown]));
      chosen.forEach((row, which) => {
        const cell = [...grid].find(([, other]) => other === row);
        if (!cell) return;
        const [x, y] = corner(cell[0]);
        put(svg, "rect", { x: x + 3, y: y + 3, width: 15, height: 15, fill: "#ffffff", stroke: "#1c2026" });
        put(svg, "text", { x: x + 10.5, y: y + 15, "text-anchor": "middle", "font-size": 12, "font-weight": "bold", fill: "#1c2026" }, "AB"[which]);
      });
      const mark = put(svg, "rect", { class: "mark", width: wide - 2, height: tall - 2, x: -9999, y: 0 });
      plane.replaceChildren(svg);
      const say = () => {
        const [x, y] = corner(at), row = grid.get(at);
        mark.setAttribute("x", x + 1);
        mark.setAttribute("y", y + 1);
        const where = `${keys[across]}\u00a0${written(columns[at % columns.length])}, ${keys[up]}\u00a0${written(rows[Math.floor(at / columns.length)])}`;
        line.textContent = row === undefined ? where + ": not solved" :
          `${spoken(row)}: ${figures[shown].name} ${amount(designs[row].figures[shown], figures[shown].unit)}, ` +
          (designs[row].kept ? `place ${place(row)}, keeps every limit` : designs[row].broken) + ". Enter: compare it as B.";
      };
      svg.addEventListener("pointermove", (event) => {
        const box = svg.getBoundingClientRect(), scale = sheet / box.width;
        const column = Math.floor(((event.clientX - box.left) * scale - left) / wide);
        const row = Math.floor((top + height - (event.clientY - box.top) * scale) / tall);
        if (column < 0 || row < 0 || column >= columns.length || row >= rows.length) return;
        at = column + columns.length * row;
        say();
      });
      svg.addEventListener("click", () => at !== null && grid.has(at) && pick(1, grid.get(at)));
      plane.onkeydown = (event) => {
        const right = { ArrowLeft: -1, ArrowRight: 1 }[event.key] ?? 0, higher = { ArrowDown: -1, ArrowUp: 1 }[event.key] ?? 0;
        if (event.key === "Enter" && grid.has(at)) pick(1, grid.get(at));
        if (!right && !higher) return;
        event.preventDefault();
        if (at === null || at >= columns.length * rows.length) at = 0;
        else {
          const column = Math.max(0, Math.min(columns.length - 1, (at % columns.length) + right));
          const row = Math.max(0, Math.min(rows.length - 1, Math.floor(at / columns.length) + higher));
          at = column + columns.length * row;
        }
        say();
      };
    };
    const changed = (other, select) => () => {
      if (other().value === select().value) other().value = select().value === "0" ? "1" : "0";
      at = null;
      draw();
    };
    const across_ = chooser(form, "Across", keys, 1, changed(() => up_, () => across_));
    const up_ = chooser(form, "Up", keys, 0, changed(() => across_, () => up_));
    const shown_ = chooser(form, "Colour", figures.map((f) => f.name), 0, () => draw());
    line.textContent = "Point at a field, or use the arrow keys on the map, to read it.";
    redraw.push(draw);
  };
  const map = document.getElementById("design-map");
  if (map && designs.length > 1) makeMap(map);

  // ---- One against the other ----

  const makePareto = (element) => {
    const form = element.querySelector(".choose"), plane = element.querySelector(".live"), line = element.querySelector(".reading");
    form.hidden = plane.hidden = false;
    plane.removeAttribute("tabindex");
    plane.removeAttribute("role");
    const canvas = document.createElement("canvas");
    canvas.tabIndex = 0;
    canvas.setAttribute("role", "img");
    canvas.setAttribute("aria-label", "Designs by two figures; arrow keys walk along them");
    plane.replaceChildren(canvas);
    plane.style.height = "24rem";
    let chart = null, order = [], index = -1;
    const say = (row) => {
      const [x, y] = [Number(x_.value), Number(y_.value)];
      line.textContent = `${spoken(row)}: ${figures[y].name} ${amount(designs[row].figures[y], figures[y].unit)}, ${figures[x].name} ` +
        `${amount(designs[row].figures[x], figures[x].unit)}, ${designs[row].kept ? "place " + place(row) : designs[row].broken}. Enter: compare it as B.`;
    };
    const draw = () => {
      const [x, y] = [Number(x_.value), Number(y_.value)];
      const turned = (f, value) => (f.unit === "degC" && units().fahrenheit ? value * 1.8 + 32 : value);
      const spot = (row) => ({ x: turned(figures[x], designs[row].figures[x]), y: turned(figures[y], designs[row].figures[y]), row });
      const has = (row) => designs[row].figures[x] !== null && designs[row].figures[y] !== null;
      const all = designs.map((_, row) => row).filter(has);
      const front = x === 1 && y === 0 ? data.front.filter(has) : [];
      order = [...all].sort((a, b) => designs[a].figures[x] - designs[b].figures[x]);
      const wide = (k) => {
        const values = all.map((row) => designs[row].figures[k]);
        return figures[k].unit !== "degC" && Math.min(...values) > 0 && Math.max(...values) > 30 * Math.min(...values);
      };
      const axis = (f, k) => ({ type: wide(k) ? "logarithmic" : "linear", title: { display: true, text: titled(f), color: style("--ink") }, ticks: { color: style("--faint") }, grid: { color: style("--rule") } });
      if (chart) chart.destroy();
      chart = new Chart(canvas, {
        type: "scatter",
        data: { datasets: [
          { label: "best trade", data: front.map(spot), showLine: true, borderColor: style("--teal"), backgroundColor: style("--teal"), borderWidth: 2, pointRadius: 5 },
          { label: "keeps every limit", data: all.filter((row) => designs[row].kept).map(spot), backgroundColor: style("--faint"), borderColor: style("--faint"), pointRadius: 3 },
          { label: "exceeds a limit", data: all.filter((row) => !designs[row].kept).map(spot), borderColor: style("--accent"), backgroundColor: style("--accent"), pointStyle: "crossRot", borderWidth: 2, pointRadius: 5 },
        ].filter((set) => set.data.length > 0) },
        options: {
          animation: false, maintainAspectRatio: false, scales: { x: axis(figures[x], x), y: axis(figures[y], y) },
          interaction: { mode: "nearest", intersect: false },
          onHover: (_, items) => items.length && say(chart.data.datasets[items[0].datasetIndex].data[items[0].index].row),
          onClick: (_, items) => items.length && pick(1, chart.data.datasets[items[0].datasetIndex].data[items[0].index].row),
          plugins: {
            legend: { position: "bottom", labels: { color: style("--ink"), usePointStyle: true } },
            tooltip: { callbacks: { label: (item) => {
              const row = item.raw.row;
              return [spoken(row), `${figures[y].name}: ${amount(designs[row].figures[y], figures[y].unit)}`,
                      `${figures[x].name}: ${amount(designs[row].figures[x], figures[x].unit)}`];
            } } },
          },
        },
      });
    };
    canvas.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && index >= 0) return pick(1, order[index]);
      if (event.key !== "ArrowRight" && event.key !== "ArrowLeft") return;
      event.preventDefault();
      index = Math.max(0, Math.min(order.length - 1, index + (event.key === "ArrowRight" ? 1 : -1)));
      say(order[index]);
    });
    const names = figures.map((f) => f.name);
    const y_ = chooser(form, "Up", names, 0, draw), x_ = chooser(form, "Across", names, 1, draw);
    redraw.push(draw);
  };
  const pareto = document.getElementById("design-pareto");
  if (pareto && data.against) makePareto(pareto);

  const showUnits = () => {
    selects.forEach((select) => [...select.options].forEach((o, row) => (o.textContent = named(row))));
    if (compareTable) compare();
    for (const draw of redraw) draw();
  };
  document.addEventListener("units", showUnits);
  for (const query of ["(prefers-color-scheme: dark)", "(max-width: 40rem)"]) matchMedia(query).addEventListener("change", showUnits);
  if (compareTable) {
    pick(0, chosen[0]);
    pick(1, chosen[1]);
  }
  showUnits();
})();
