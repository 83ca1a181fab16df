// The page's own script: folding, printing, other units. Without it the page still has all its content. It loads
// nothing and sends nothing.
(() => {
  "use strict";
  const style = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  let fahrenheit = false, inches = false;

  /** Three significant figures, as everywhere in the page. */
  const figure = (value) => {
    if (value === 0) return "0";
    const text = value.toPrecision(3);
    return text.includes("e") ? String(Number(text)) : text;
  };
  /** For the scripts that follow this one. */
  window.coilwrightPage = { figure, style, units: () => ({ fahrenheit, inches }) };
  document.documentElement.classList.add("scripted");

  // ---- Folding ----

  /** A link to a folded section opens it. */
  const reveal = (id) => {
    const target = id && document.getElementById(id);
    if (!target) return;
    for (let e = target; e; e = e.parentElement) if (e.tagName === "DETAILS") e.open = true;
    (target.closest(".fold") ?? target).scrollIntoView();
  };
  const revealAddress = () => reveal(decodeURIComponent(location.hash.slice(1)));
  document.addEventListener("click", (event) => {
    const link = event.target.closest?.("a[href^='#']");
    if (link) reveal(decodeURIComponent(link.hash.slice(1)));
  });
  window.addEventListener("hashchange", revealAddress);

  // ---- Paper ----

  /** Opens folded sections before printing and folds them again afterwards; the style sheet omits sections not chosen. */
  let opened = [];
  window.addEventListener("beforeprint", () => {
    const folded = [...document.querySelectorAll(".fold > details:not([open])")];
    opened.push(...folded);
    for (const details of folded) details.open = true;
  });
  window.addEventListener("afterprint", () => {
    for (const details of opened.splice(0)) details.open = false;
  });
  const button = document.querySelector(".paper button");
  if (button) {
    button.hidden = false;
    button.addEventListener("click", () => window.print());
  }

  // ---- Units ----

  const feet = (metres) => figure(metres / 0.3048) + "\u00a0ft";
  /** Conversion of each kind of number: temperatures, their differences, lengths, velocities. */
  const other = {
    K: (kelvin) => fahrenheit && figure((kelvin - 273.15) * 1.8 + 32) + "\u00a0\u00b0F",
    dK: (kelvin, text) => fahrenheit && (text.startsWith("+") ? "+" : "") + figure(kelvin * 1.8) + "\u00a0\u00b0F",
    rK: (rate) => fahrenheit && figure(rate * 1.8) + "\u00a0\u00b0F/s",
    m: (metres, text) => inches && (text.endsWith("\u00a0m") ? feet(metres) : figure(metres / 0.0254) + "\u00a0in"),
    v: (velocity) => inches && feet(velocity) + "/s",
  };
  const showUnits = () => {
    for (const element of document.querySelectorAll("data.K, data.dK, data.rK, data.m, data.v")) {
      element.dataset.metric ??= element.textContent;
      element.textContent = other[element.className](Number(element.getAttribute("value")), element.dataset.metric) || element.dataset.metric;
    }
    document.dispatchEvent(new Event("units"));
  };
  for (const box of document.querySelectorAll(".units input")) {
    box.closest("form").hidden = false;
    box.addEventListener("change", () => {
      if (box.name === "fahrenheit") fahrenheit = box.checked;
      else inches = box.checked;
      showUnits();
    });
  }
  window.addEventListener("DOMContentLoaded", revealAddress);
})();
