// The page's own script: live charts, pictures that tell their values, other units. Everything it shows also stands in
// the page without it. Nothing is loaded, nothing is sent.
(() => {
  "use strict";
  const sheet = document.querySelector(".live") ?? document.body;
  const style = (name) => getComputedStyle(sheet).getPropertyValue(name).trim();
  let fahrenheit = false, inches = false;

  /** Three significant figures, as everywhere in the page. */
  const figure = (value) => {
    if (value === 0) return "0";
    const text = value.toPrecision(3);
    return text.includes("e") ? String(Number(text)) : text;
  };
  const shownTemperature = (celsius) => (fahrenheit ? celsius * 1.8 + 32 : celsius);
  const axisUnit = (axis) => (axis.unit === "degC" ? (fahrenheit ? "\u00b0F" : "\u00b0C") : axis.unit);
  const axisTitle = (axis) => axis.title.replace("[" + axis.unit + "]", axis.unit ? "[" + axisUnit(axis) + "]" : "");
  const axisValue = (axis, value) => (axis.unit === "degC" ? shownTemperature(value) : value);

  // ---- Charts ----

  /** Whether a line of the chart, or a mark that stands, runs through a box round text that ends at x, y. */
  const isCrossed = (chart, x, y, width) => {
    const standing = chart.shown.marks.filter((m) => m.upright).map((m) => chart.scales.x.getPixelForValue(axisValue(chart.shown.x, m.value)));
    return standing.some((at) => at > x - width && at < x) ||
      chart.data.datasets.some((_, set) => chart.isDatasetVisible(set) && chart.getDatasetMeta(set).data.some((b, i, points) => {
        const a = points[Math.max(i - 1, 0)];
        const from = Math.max(a.x, x - width), to = Math.min(b.x, x);
        if (from > to) return false;
        const rise = b.x > a.x ? (b.y - a.y) / (b.x - a.x) : 0;
        const there = a.y + rise * (from - a.x), back = a.y + rise * (to - a.x);
        return Math.max(there, back) > y - 12 && Math.min(there, back) < y + 4;
      }));
  };
  /** Where the name of a mark across ends: over the line at the right, or the next place that is left free. */
  const freeEnd = (chart, y, width) => {
    const { left, right, bottom } = chart.chartArea;
    for (const x of [right - 6, (left + right + width) / 2, left + 6 + width])
      for (const to of [y - 5, y + 15])
        if (to < bottom - 4 && !isCrossed(chart, x, to, width)) return [x, to];
    return [right - 6, y - 5];
  };

  /** Draws the marks of a chart, limits in their own colour, the rest dashed. */
  const drawMarks = (chart) => {
    const { ctx, chartArea: area, scales, shown: data } = chart;
    for (const mark of data.marks) {
      ctx.save();
      ctx.strokeStyle = ctx.fillStyle = mark.limit ? style("--accent") : style("--faint");
      ctx.lineWidth = mark.limit ? 2 : 1.25;
      if (!mark.limit) ctx.setLineDash([5, 4]);
      ctx.font = (mark.limit ? "bold " : "") + "12px " + Chart.defaults.font.family;
      ctx.textBaseline = "alphabetic";
      ctx.beginPath();
      if (mark.upright) {
        const x = scales.x.getPixelForValue(axisValue(data.x, mark.value));
        ctx.moveTo(x, area.top - 4);
        ctx.lineTo(x, area.bottom);
        // Of two marks side by side, the limit writes to its right, where the page is wide enough.
        const fits = x + 5 + ctx.measureText(mark.name).width <= chart.width;
        ctx.textAlign = (!mark.limit && x > (area.left + area.right) / 3) || !fits ? "right" : "left";
        ctx.fillText(mark.name, x + (ctx.textAlign === "right" ? -5 : 5), area.top - 6);
      } else {
        const y = scales.y.getPixelForValue(axisValue(data.y, mark.value));
        ctx.moveTo(area.left, y);
        ctx.lineTo(area.right, y);
        ctx.textAlign = "right";
        ctx.fillText(mark.name, ...freeEnd(chart, y, ctx.measureText(mark.name).width));
      }
      ctx.stroke();
      ctx.restore();
    }
  };
  /** Under lines, which may run along a limit, and over bars. */
  const marksPlugin = {
    id: "marks",
    beforeDatasetsDraw: (chart) => chart.config.type === "bar" || drawMarks(chart),
    afterDatasetsDraw: (chart) => chart.config.type === "bar" && drawMarks(chart),
  };

  const lineSet = (data, series) => ({
    label: series.name,
    data: series.x.map((x, i) => ({ x: axisValue(data.x, x), y: axisValue(data.y, series.y[i]) })),
    borderColor: series.colour,
    backgroundColor: series.colour,
    borderWidth: 2,
    borderDash: series.dash ? [series.dash, series.dash] : [],
    pointRadius: series.x.length > 30 ? 0 : 3,
    pointHitRadius: 12,
  });
  const barSet = (series) => ({
    label: series.name,
    data: series.y,
    backgroundColor: series.own || series.colour,
    borderColor: style("--paper"),
    borderWidth: 1,
    maxBarThickness: 96,
  });

  /** What is said of a point, by the pointer and by the keyboard. */
  const reading = (data, set, index) => {
    const series = data.series[set];
    const values = data.kind === "bars" ? data.x : data.y;
    const value = figure(axisValue(values, series.y[index])) + " " + axisUnit(values);
    return data.kind === "lines"
      ? { at: figure(axisValue(data.x, series.x[index])) + " " + axisUnit(data.x), text: series.name + ": " + value }
      : { at: data.categories[index], text: series.name + ": " + value };
  };

  /** `values`: what is shown is measured along it, so that it begins at zero. */
  const scale = (axis, values) => ({
    type: axis.logarithmic ? "logarithmic" : "linear",
    beginAtZero: axis.fromZero && values,
    title: { display: axis.title !== "", text: axisTitle(axis), color: style("--ink") },
    ticks: { color: style("--faint"), precision: axis.whole ? 0 : undefined },
    grid: { color: style("--rule") },
    grace: 0,
  });
  const category = () => ({ type: "category", ticks: { color: style("--ink"), autoSkip: false }, grid: { display: false } });

  /** Marks may lie beyond the values; the scale must show them. */
  const includeMarks = (data, scales) => {
    for (const mark of data.marks) {
      const axis = mark.upright ? scales.x : scales.y;
      const value = axisValue(mark.upright ? data.x : data.y, mark.value);
      axis.suggestedMax = Math.max(axis.suggestedMax ?? value, value);
      axis.suggestedMin = Math.min(axis.suggestedMin ?? value, value);
    }
  };

  /** The names under a chart, each with its line as it is drawn, dashes too. */
  const names = (chart) =>
    Chart.defaults.plugins.legend.labels.generateLabels(chart).map((name) => ({
      ...name,
      lineDash: chart.data.datasets[name.datasetIndex].borderDash,
    }));

  const configuration = (data) => {
    const lines = data.kind === "lines", lying = data.kind === "bars";
    const scales = lines ? { x: scale(data.x, false), y: scale(data.y, true) }
      : lying ? { x: scale(data.x, true), y: category() }
      : { x: { ...category(), stacked: true }, y: { ...scale(data.y, true), stacked: true } };
    includeMarks(data, scales);
    return {
      type: lines ? "line" : "bar",
      data: { labels: lines ? undefined : data.categories, datasets: data.series.map((s) => (lines ? lineSet(data, s) : barSet(s))) },
      plugins: [marksPlugin],
      options: {
        animation: false,
        maintainAspectRatio: false,
        indexAxis: lying ? "y" : "x",
        layout: { padding: { top: 18, right: lying ? 12 : 4 } },
        interaction: { mode: lines ? "nearest" : "index", intersect: false, axis: lines ? "x" : lying ? "y" : "x" },
        scales,
        plugins: {
          legend: {
            display: data.series.length > 1,
            position: "bottom",
            labels: { color: style("--ink"), boxWidth: 28, usePointStyle: lines, pointStyle: "line", pointStyleWidth: 36,
                      ...(lines ? { generateLabels: names } : {}) },
          },
          tooltip: {
            callbacks: {
              title: (items) => (items.length ? reading(data, items[0].datasetIndex, items[0].dataIndex).at : ""),
              label: (item) => reading(data, item.datasetIndex, item.dataIndex).text,
            },
          },
        },
      },
    };
  };

  /** Arrow keys walk along the points of a chart and say them. */
  const walk = (figureElement, chart, data) => {
    let set = 0, index = -1;
    const say = () => {
      const { at, text } = reading(data, set, index);
      figureElement.querySelector(".reading").textContent = at + " \u2013 " + text;
      const active = [{ datasetIndex: set, index }];
      chart.setActiveElements(active);
      chart.tooltip.setActiveElements(active, { x: 0, y: 0 });
      chart.update();
    };
    figureElement.querySelector("canvas").addEventListener("keydown", (event) => {
      const count = data.series[set].y.length, sets = data.series.length;
      if (event.key === "ArrowRight") index = Math.min(index + 1, count - 1);
      else if (event.key === "ArrowLeft") index = Math.max(index - 1, 0);
      else if (event.key === "ArrowDown") set = (set + 1) % sets;
      else if (event.key === "ArrowUp") set = (set + sets - 1) % sets;
      else return;
      event.preventDefault();
      index = Math.max(0, Math.min(index, data.series[set].y.length - 1));
      say();
    });
  };

  const charts = [];
  const drawCharts = () => {
    Chart.defaults.font.family = getComputedStyle(document.body).fontFamily;
    for (const old of charts.splice(0)) old.destroy();
    for (const element of document.querySelectorAll("figure.chart")) {
      // The policy of the page allows no style attributes; what a script sets is none.
      if (element.dataset.rows) element.style.setProperty("--rows", element.dataset.rows);
      const data = JSON.parse(element.querySelector("script").textContent);
      const fresh = element.querySelector("canvas").cloneNode();
      element.querySelector("canvas").replaceWith(fresh);
      element.querySelector(".live").hidden = false;
      const settings = configuration(data);
      settings.plugins = [{ ...marksPlugin, beforeInit: (chart) => { chart.shown = data; } }];
      const chart = new Chart(fresh, settings);
      walk(element, chart, data);
      charts.push(chart);
    }
  };

  // ---- Pictures ----

  /** Base64 of little-endian 16-bit codes, or of bytes. */
  const bytes = (text) => Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
  const codes = (text) => new Uint16Array(bytes(text).buffer);
  /** The value a code stands for; see picture_values.hpp. */
  const decoded = (code, quantity) =>
    code === 0 ? 0 : quantity.top * 10 ** (quantity.decades * ((code - 1) / 65534 - 1));
  const millimetres = (value) => (inches ? figure(value / 25.4) + "\u00a0in" : Number(value.toFixed(1)) + "\u00a0mm");

  /** A value as it is said; nothing where there is none, as for the temperature of air. */
  const spoken = (quantity, code) => {
    if (quantity.unit !== "\u00b0C") return `${quantity.name} ${figure(decoded(code, quantity))}\u00a0${quantity.unit}`;
    if (code === 0) return "";
    return `${quantity.name} ${figure(shownTemperature(decoded(code, quantity)))}\u00a0${fahrenheit ? "\u00b0F" : "\u00b0C"}`;
  };

  /** A picture that says the value of the sample nearest to the pointer, or to the mark the arrow keys move. */
  const tell = (element) => {
    const values = JSON.parse(element.querySelector("script").textContent);
    const drawing = element.querySelector("svg"), line = element.querySelector(".reading");
    const regions = bytes(values.regions), fields = values.quantities.map((q) => codes(q.codes));
    const mark = document.createElementNS("http://www.w3.org/2000/svg", "path");
    mark.setAttribute("class", "mark");
    drawing.append(mark);
    let column = 0, row = 0, half = 1;
    line.textContent = "Point at the picture, or use the arrow keys on it, to read values.";
    const say = () => {
      const i = row * values.columns + column;
      const r = (column + 0.5) * values.step_mm, z = values.z_top_mm - (row + 0.5) * values.step_mm;
      const x = values.axis + half * r * values.scale, y = values.top + (values.z_top_mm - z) * values.scale;
      mark.setAttribute("d", `M${x - 7} ${y}h14M${x} ${y - 7}v14`);
      line.textContent = `${values.names[regions[i]]}, radius ${millimetres(r)}, height ${millimetres(z)}: ` +
        values.quantities.map((q, k) => spoken(q, fields[k][i])).filter((words) => words).join(", ") +
        ` (nearest sample, one every ${millimetres(values.step_mm)})`;
    };
    drawing.addEventListener("pointermove", (event) => {
      const box = drawing.getBoundingClientRect(), view = drawing.viewBox.baseVal;
      const x = ((event.clientX - box.left) / box.width) * view.width;
      const y = ((event.clientY - box.top) / box.height) * view.height;
      const toColumn = Math.floor(Math.abs(x - values.axis) / values.scale / values.step_mm);
      const toRow = Math.floor((y - values.top) / values.scale / values.step_mm);
      if (toColumn >= values.columns || toRow < 0 || toRow >= values.rows) return;
      [column, row, half] = [toColumn, toRow, x < values.axis ? -1 : 1];
      say();
    });
    element.querySelector(".scroll").addEventListener("keydown", (event) => {
      const step = event.shiftKey ? 10 : 1;
      const across = { ArrowLeft: -step, ArrowRight: step }[event.key] ?? 0;
      const down = { ArrowUp: -step, ArrowDown: step }[event.key] ?? 0;
      if (!across && !down) return;
      event.preventDefault();
      const place = half * (column + 0.5) + across;
      half = place < 0 ? -1 : 1;
      column = Math.min(Math.floor(Math.abs(place)), values.columns - 1);
      row = Math.max(0, Math.min(row + down, values.rows - 1));
      say();
    });
  };
  for (const element of document.querySelectorAll("figure.picture"))
    if (element.querySelector("script")) tell(element);

  /** One state of a series at a time; paper shows the one that is chosen. */
  for (const series of document.querySelectorAll(".series")) {
    const slider = series.querySelector("input"), shown = [...series.querySelectorAll("figure")];
    series.querySelector(".slide").hidden = false;
    const choose = () => {
      shown.forEach((element, i) => (element.hidden = i !== Number(slider.value)));
      series.querySelector("output").textContent = shown[slider.value].dataset.state;
      slider.setAttribute("aria-valuetext", shown[slider.value].dataset.state);
    };
    slider.addEventListener("input", choose);
    choose();
  }

  // ---- Units ----

  const fahrenheitOf = (kelvin) => (kelvin - 273.15) * 1.8 + 32;
  const showUnits = () => {
    for (const element of document.querySelectorAll("data.K, data.m")) {
      element.dataset.metric ??= element.textContent;
      const value = Number(element.getAttribute("value"));
      const other = element.className === "K" ? fahrenheit : inches;
      element.textContent = !other ? element.dataset.metric
        : element.className === "K" ? figure(fahrenheitOf(value)) + "\u00a0\u00b0F"
        : figure(value / 0.0254) + "\u00a0in";
    }
    drawCharts();
    document.dispatchEvent(new Event("units"));
  };
  /** For the scripts of other pages of ours. */
  window.coilwrightPage = { figure, style, units: () => ({ fahrenheit, inches }) };

  document.documentElement.classList.add("scripted");
  for (const box of document.querySelectorAll(".units input")) {
    box.closest("form").hidden = false;
    box.addEventListener("change", () => {
      if (box.name === "fahrenheit") fahrenheit = box.checked;
      else inches = box.checked;
      showUnits();
    });
  }
  drawCharts();
})();
