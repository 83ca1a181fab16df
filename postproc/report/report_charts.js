// Interactive charts that replace the drawings. Uses report.js, which precedes it.
(() => {
  "use strict";
  const { figure, style, units } = window.coilwrightPage;
  const signs = { uT: "\u00b5T" };
  const axisUnit = (axis) =>
    axis.unit === "degC" ? (units().fahrenheit ? "\u00b0F" : "\u00b0C")
      : axis.unit === "m" && units().inches ? "in" : signs[axis.unit] ?? axis.unit;
  const axisTitle = (axis) => axis.title.replace("[" + axis.unit + "]", axis.unit ? "[" + axisUnit(axis) + "]" : "");
  const axisValue = (axis, value) =>
    axis.unit === "degC" ? (units().fahrenheit ? value * 1.8 + 32 : value)
      : axis.unit === "m" && units().inches ? value / 0.0254 : value;

  // ---- Colours ----

  const dark = matchMedia("(prefers-color-scheme: dark)");
  const channels = (colour) => [1, 3, 5].map((at) => parseInt(colour.slice(at, at + 2), 16));
  const luminance = (colour) => {
    const [r, g, b] = channels(colour).map((v) => (v <= 10 ? v / 3294 : ((v / 255 + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  /** A line's colour, mixed with white on a dark background until its contrast is 4.5 to 1 (WCAG 2.1). */
  const tone = (colour) => {
    if (!dark.matches) return colour;
    const paper = luminance(style("--paper")) + 0.05;
    for (let share = 0; share < 1; share += 0.1) {
      const mixed = "#" + channels(colour).map((v) => Math.round(v + share * (255 - v)).toString(16).padStart(2, "0")).join("");
      if ((luminance(mixed) + 0.05) / paper >= 4.5) return mixed;
    }
    return style("--ink");
  };
  const letteringOn = (colour) => (luminance(colour) < 0.22 ? "#ffffff" : "#1c2026");
  /** A, B, ... Z, AA: as in the drawings. */
  const letter = (i) => (i < 26 ? "" : letter(Math.floor(i / 26) - 1)) + String.fromCharCode(65 + (i % 26));

  // ---- Marks and names ----

  /** Whether a line of the chart, or a vertical mark, crosses the box of a text that ends at x, y. */
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
  /** Right end of the name of a horizontal mark: above its line at the right, or at the next free place. */
  const freeEnd = (chart, y, width) => {
    const { left, bottom } = chart.chartArea;
    // Lines from the ends of the series to their names run beyond these ends.
    const ends = chart.shown.atEnd ? chart.data.datasets.map((_, k) => chart.getDatasetMeta(k).data.at(-1).x + 2) : [];
    const right = Math.min(chart.chartArea.right, ...ends);
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
        // If two marks are side by side, the limit has its name to the right, if the page is wide enough.
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
  /** Marks go below lines, which may run along a limit, and above bars. */
  const marksPlugin = {
    id: "marks",
    beforeDatasetsDraw: (chart) => chart.config.type === "bar" || drawMarks(chart),
    afterDatasetsDraw: (chart) => {
      if (chart.config.type === "bar") drawMarks(chart);
      drawWords(chart);
      drawNames(chart);
    },
  };

  /** Whether every line ends at the right and so has its name there; otherwise there is a key below. */
  const namedAtEnd = (data, width) =>
    data.kind === "lines" && data.series.length > 1 && data.series.length < 8 && width >= 560 &&
    data.series.every((s) => s.x.at(-1) >= 0.8 * Math.max(...data.series.flatMap((other) => other.x)));

  /** Writes the names of lines at their ends, without overlaps. */
  const drawNames = (chart) => {
    if (!chart.shown.atEnd) return;
    const { ctx, chartArea: area } = chart, step = 15;
    const ends = chart.data.datasets.map((set, k) => ({ set, at: chart.getDatasetMeta(k).data.at(-1) }));
    ends.sort((a, b) => a.at.y - b.at.y);
    ends.forEach((end, k) => (end.y = k ? Math.max(end.at.y, ends[k - 1].y + step) : end.at.y));
    for (let k = ends.length - 1, low = area.bottom; k >= 0; --k, low -= step) ends[k].y = Math.min(ends[k].y, low);
    ctx.save();
    ctx.font = "12px " + Chart.defaults.font.family;
    ctx.textBaseline = "middle";
    for (const { set, at, y } of ends) {
      ctx.strokeStyle = set.borderColor;
      ctx.lineWidth = 0.8;
      ctx.beginPath();
      ctx.moveTo(at.x + 3, at.y);
      ctx.lineTo(area.right + 8, y);
      ctx.stroke();
      ctx.fillStyle = style("--ink");
      ctx.fillText(set.label, area.right + 12, y);
    }
    ctx.restore();
  };

  /** Writes the value after each horizontal bar, and a letter in each part of a stack that has room for it. */
  const drawWords = (chart) => {
    const { ctx, shown: data } = chart;
    if (data.kind === "lines") return;
    ctx.save();
    ctx.textBaseline = "middle";
    chart.data.datasets.forEach((set, k) => chart.getDatasetMeta(k).data.forEach((bar, i) => {
      if (data.kind === "stacked") {
        if (Math.abs(bar.base - bar.y) < 13) return;
        ctx.font = "bold 11px " + Chart.defaults.font.family;
        ctx.textAlign = "center";
        ctx.fillStyle = letteringOn(set.backgroundColor);
        return ctx.fillText(letter(k), bar.x, (bar.base + bar.y) / 2);
      }
      const remark = data.series[k].remarks?.[i] ?? "";
      const words = figure(set.data[i]) + "\u00a0" + data.x.unit + (remark && ", " + remark);
      ctx.font = (remark ? "bold " : "") + "12px " + Chart.defaults.font.family;
      const inside = bar.x + 6 + ctx.measureText(words).width > chart.width;
      ctx.textAlign = inside ? "right" : "left";
      const x = bar.x + (inside ? -6 : 6), rim = inside ? set.backgroundColor[i] : style("--paper");
      ctx.lineWidth = 4;
      ctx.lineJoin = "round";
      ctx.strokeStyle = rim;
      ctx.strokeText(words, x, bar.y);
      ctx.fillStyle = inside ? letteringOn(rim) : style("--ink");
      ctx.fillText(words, x, bar.y);
    }));
    ctx.restore();
  };

  // ---- Settings ----

  const lineSet = (data, series, k) => ({
    label: series.name,
    data: series.x.map((x, i) => ({ x: axisValue(data.x, x), y: axisValue(data.y, series.y[i]) })),
    borderColor: tone(series.colour),
    backgroundColor: tone(series.colour),
    // Earlier lines are below later ones and wider, so that none is hidden where they coincide.
    order: data.series.length - k,
    borderWidth: Math.min(4, 1.8 + 0.7 * (data.series.length - 1 - k)),
    clip: false,
    borderDash: series.dash ? [series.dash, series.dash] : [],
    pointRadius: series.x.length > 30 ? 0 : 3,
    pointHitRadius: 12,
  });
  const barSet = (series) => ({
    label: series.name,
    data: series.y,
    backgroundColor: series.own || series.colour,
    borderColor: dark.matches ? style("--faint") : style("--paper"),
    borderWidth: 1,
    maxBarThickness: 96,
  });

  /** The text for a point, at the pointer and for the keyboard. */
  const reading = (data, set, index) => {
    const series = data.series[set];
    const values = data.kind === "bars" ? data.x : data.y;
    const value = figure(axisValue(values, series.y[index])) + " " + axisUnit(values);
    return data.kind === "lines"
      ? { at: figure(axisValue(data.x, series.x[index])) + " " + axisUnit(data.x), text: series.name + ": " + value }
      : { at: data.categories[index], text: series.name + ": " + value };
  };

  /** A number of an axis; of a logarithmic axis only 1, 2, 5, over many decades only 1. */
  const tickWords = (axis, span) => (value) => {
    const short = String(Number(value.toPrecision(6)));
    if (!axis.logarithmic) return short;
    const round = Number(value.toExponential(0)), first = Number(value.toExponential(0)[0]);
    if (Math.abs(round / value - 1) > 1e-6) return null;
    return first === 1 || (span < 200 && (first === 2 || first === 5)) ? short : null;
  };
  /** `values`: the axis of the values, which begins at zero. `all`: shows every number. */
  const scale = (axis, values, all) => {
    const low = Math.min(...all), high = Math.max(...all);
    return {
      type: axis.logarithmic ? "logarithmic" : "linear",
      beginAtZero: axis.fromZero && values,
      ...(axis.logarithmic && !values && high > low ? { min: low, max: high } : {}),
      title: { display: axis.title !== "", text: axisTitle(axis), color: style("--ink") },
      ticks: { color: style("--faint"), precision: axis.whole ? 0 : undefined, callback: tickWords(axis, high / low) },
      grid: { color: style("--rule") },
      grace: 0,
    };
  };
  const category = () => ({ type: "category", ticks: { color: style("--ink"), autoSkip: false }, grid: { display: false } });

  /** A name in lines of limited length. */
  const wrapped = (name, most) => name.split(" ").reduce((lines, word) => {
    const longer = lines.at(-1) === "" ? word : lines.at(-1) + " " + word;
    return longer.length <= most || lines.at(-1) === "" ? [...lines.slice(0, -1), longer] : [...lines, word];
  }, [""]);

  /** Marks may be beyond the values; the scale must include them. */
  const includeMarks = (data, scales) => {
    for (const mark of data.marks) {
      const axis = mark.upright ? scales.x : scales.y;
      const value = axisValue(mark.upright ? data.x : data.y, mark.value);
      axis.suggestedMax = Math.max(axis.suggestedMax ?? value, value);
      axis.suggestedMin = Math.min(axis.suggestedMin ?? value, value);
    }
  };

  /** The names below a chart, each with a sample of its line, dashes included, or with its letter. */
  const names = (chart) =>
    Chart.defaults.plugins.legend.labels.generateLabels(chart).map((name) => ({
      ...name,
      lineDash: chart.data.datasets[name.datasetIndex].borderDash,
      text: (chart.shown.kind === "stacked" ? letter(name.datasetIndex) + "  " : "") + name.text,
    }));

  const nameWidth = (data) => {
    const pen = document.createElement("canvas").getContext("2d");
    pen.font = "12px " + Chart.defaults.font.family;
    return Math.max(...data.series.map((s) => pen.measureText(s.name).width));
  };
  const scalesOf = (data) => {
    const along = (axis, key) => data.series.flatMap((s) => (s[key] ?? []).map((v) => axisValue(axis, v)));
    if (data.kind === "lines") return { x: scale(data.x, false, along(data.x, "x")), y: scale(data.y, true, along(data.y, "y")) };
    return data.kind === "bars" ? { x: scale(data.x, true, []), y: category() }
      : { x: { ...category(), stacked: true }, y: { ...scale(data.y, true, []), stacked: true } };
  };

  const configuration = (data, width) => {
    const lines = data.kind === "lines", lying = data.kind === "bars", scales = scalesOf(data);
    data.atEnd = namedAtEnd(data, width);
    const categories = lying ? data.categories.map((name) => wrapped(name, width < 560 ? 16 : 40)) : data.categories;
    includeMarks(data, scales);
    return {
      type: lines ? "line" : "bar",
      data: { labels: lines ? undefined : categories, datasets: data.series.map((s, k) => (lines ? lineSet(data, s, k) : barSet(s))) },
      plugins: [marksPlugin],
      options: {
        animation: false,
        maintainAspectRatio: false,
        indexAxis: lying ? "y" : "x",
        layout: { padding: { top: 18, right: data.atEnd ? nameWidth(data) + 18 : lying ? 64 : 4 } },
        interaction: { mode: lines ? "nearest" : "index", intersect: false, axis: lines ? "x" : lying ? "y" : "x" },
        scales,
        plugins: {
          legend: {
            display: data.series.length > 1 && !data.atEnd,
            position: "bottom",
            labels: { color: style("--ink"), boxWidth: 28, usePointStyle: lines, pointStyle: "line", pointStyleWidth: 36,
                      generateLabels: names },
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

  /** Arrow keys move along the points of a chart and announce them. */
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

  // ---- Drawing ----

  const charts = new Map();
  const draw = (element) => {
    charts.get(element)?.destroy();
    const data = JSON.parse(element.querySelector("script").textContent);
    const fresh = element.querySelector("canvas").cloneNode(), live = element.querySelector(".live");
    element.querySelector("canvas").replaceWith(fresh);
    live.hidden = false;
    const settings = configuration(data, live.clientWidth);
    if (data.kind === "bars") {
      // The policy of the page forbids style attributes, but not styles set by a script.
      const deepest = Math.max(...settings.data.labels.map((lines) => lines.length));
      element.style.setProperty("--rows", data.categories.length * (1 + 0.5 * (deepest - 1)));
    }
    settings.plugins = [{ ...marksPlugin, beforeInit: (chart) => { chart.shown = data; } }];
    const chart = new Chart(fresh, settings);
    walk(element, chart, data);
    charts.set(element, chart);
  };
  /** A folded chart is drawn when its section opens, since it needs its width. */
  const drawOpen = (within) => {
    Chart.defaults.font.family = getComputedStyle(document.body).fontFamily;
    for (const element of within.querySelectorAll("figure.chart"))
      if (!element.closest(".fold > details:not([open])")) draw(element);
  };
  const drawAll = () => drawOpen(document);
  for (const details of document.querySelectorAll(".fold > details"))
    details.addEventListener("toggle", () => details.open && drawOpen(details));
  document.addEventListener("units", drawAll);
  dark.addEventListener("change", drawAll);
  matchMedia("(max-width: 40rem)").addEventListener("change", drawAll);
  drawAll();
})();
