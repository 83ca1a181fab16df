// Pictures that show their values, and drawings in other units. Uses report.js, which precedes it.
(() => {
  "use strict";
  const { figure, units } = window.coilwrightPage;

  /** Base64 of little-endian 16-bit codes, or of bytes. */
  const bytes = (text) => Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
  const codes = (text) => new Uint16Array(bytes(text).buffer);
  /** The value of a code; see picture_values.hpp. */
  const decoded = (code, quantity) =>
    code === 0 ? 0 : quantity.top * 10 ** (quantity.decades * ((code - 1) / 65534 - 1));
  const millimetres = (value) => (units().inches ? figure(value / 25.4) + "\u00a0in" : Number(value.toFixed(1)) + "\u00a0mm");

  /** A value as text; empty if there is none, as for the temperature of air. */
  const spoken = (quantity, code) => {
    if (quantity.unit !== "\u00b0C") return `${quantity.name} ${figure(decoded(code, quantity))}\u00a0${quantity.unit}`;
    if (code === 0) return "";
    const celsius = decoded(code, quantity);
    return quantity.name + " " + (units().fahrenheit ? figure(celsius * 1.8 + 32) + "\u00a0\u00b0F" : figure(celsius) + "\u00a0\u00b0C");
  };

  /** A picture that shows the value of the sample nearest to the pointer, or to the mark that arrow keys move. */
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

  /** Shows one state of a series at a time; print shows the chosen one. */
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

  // ---- Drawings in other units ----

  const plain = /^-?[\d.]+$/, sized = /^(.*\D )?([\d.]+)$/;
  const number = (text) => text.replace("\u2212", "-");
  /** Texts of a drawing that are lengths in millimetres: scales, outlined dimensions, texts with the unit. */
  const lengths = (drawing, texts) => {
    if (!texts.some((t) => /\bin mm\b/.test(t.textContent))) return new Map();
    const row = texts.find((t) => t.textContent === "mm")?.getAttribute("y"), found = new Map();
    for (const t of texts) {
      const words = number(t.textContent);
      if (plain.test(words) && (t.getAttribute("text-anchor") === "end" || t.getAttribute("y") === row || t.hasAttribute("stroke")))
        found.set(t, () => inch(words));
      else if (t.hasAttribute("stroke") && sized.test(words)) found.set(t, () => words.replace(sized, (_, name, size) => (name ?? "") + inch(size)));
      else if (words === "mm") found.set(t, () => "in");
      else if (/\bmm\b/.test(words)) found.set(t, () => words.replace(/([\d.]+) mm\b/g, (_, size) => inch(size) + " in").replace(/\bmm\b/g, "in"));
    }
    return found;
  };
  const inch = (text) => String(Number((Number(text) / 25.4).toPrecision(3)));
  /** The numbers of a colour bar of temperatures, and its title. */
  const temperatures = (texts) => {
    const found = new Map(), titles = texts.filter((t) => /temperature|power density|flux density|current density/.test(t.textContent));
    for (const title of titles.filter((t) => t.textContent.includes("\u00b0C"))) {
      const words = title.textContent;
      found.set(title, () => words.replace("\u00b0C", "\u00b0F"));
      const away = (t, from) => Math.abs(t.getAttribute("x") - from.getAttribute("x"));
      for (const t of texts)
        if (Math.abs(title.getAttribute("y") - t.getAttribute("y") - 18) < 3 && titles.every((other) => away(t, title) <= away(t, other))) {
          const label = t.textContent;
          found.set(t, () => label.replace(/-?[\d.]+/, (value) => figure(Number(value) * 1.8 + 32)));
        }
    }
    return found;
  };
  const lettering = [...document.querySelectorAll("figure svg")].map((drawing) => {
    const texts = [...drawing.querySelectorAll("text")].filter((t) => !t.closest("figure.chart, figure.plane"));
    return { texts: new Map(texts.map((t) => [t, t.textContent])), lengths: lengths(drawing, texts), temperatures: temperatures(texts) };
  });
  const captions = new Map([...document.querySelectorAll("figcaption")].map((c) => [c, c.firstChild?.nodeValue ?? ""]));
  document.addEventListener("units", () => {
    for (const { texts, lengths: sizes, temperatures: degrees } of lettering) {
      for (const [t, words] of texts) if (t.textContent !== words) t.textContent = words;
      if (units().inches) for (const [t, words] of sizes) t.textContent = words();
      if (units().fahrenheit) for (const [t, words] of degrees) t.textContent = words();
    }
    for (const [caption, words] of captions) {
      if (!caption.firstChild || caption.firstChild.nodeType !== Node.TEXT_NODE) continue;
      const sizes = units().inches ? words.replace(/\bsizes in mm\b/g, "sizes in inches") : words;
      caption.firstChild.nodeValue = units().fahrenheit ? sizes.replaceAll("\u00b0C", "\u00b0F") : sizes;
    }
  });
})();
