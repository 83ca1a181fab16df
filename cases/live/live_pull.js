// The drawing of the live page: sizes that can be pulled, by pointer or by key.
const pullableDrawing = (section, change) => {
  'use strict';
  const place = section.querySelector('.part');
  let pulled = null;  // the handle in hand, from pointer down to pointer up
  let drawn = null;   // the last drawing

  const digitsOf = (step) => Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const written = (handle, number) => {
    const digits = Math.max(digitsOf(handle.step), (String(handle.number).split('.')[1] || '').length);
    return String(Number(number.toFixed(digits))) + (handle.unit ? ' ' + handle.unit : '');
  };
  const leastOf = (handle) => handle.least ?? -Infinity;
  /** The number a pull of so many points leads to, on a whole step from zero. */
  const reached = (handle, points) => {
    const number = handle.number + points * handle.per_point;
    return Math.max(leastOf(handle), Math.round(number / handle.step) * handle.step);
  };
  const stepped = (handle, steps) => {
    const place = handle.number / handle.step + steps;
    const whole = steps > 0 ? Math.floor(place + 1e-6) : Math.ceil(place - 1e-6);
    return Math.max(leastOf(handle), whole * handle.step);
  };
  const settle = (handle, number, done) => {
    const value = written(handle, number);
    if (value !== handle.sent) change(handle.key, value, done);
    else if (done) change(handle.key, '', true);
    handle.sent = value;
    return value;
  };
  const say = (knob, handle, value) => {
    knob.querySelector('span').textContent = value;
    knob.setAttribute('aria-valuetext', value);
    knob.setAttribute('aria-valuenow', String(parseFloat(value)));
  };

  const take = (knob, handle, event) => {
    if (event.button !== 0) return;
    event.preventDefault();
    knob.focus({preventScroll: true});
    const points = drawn.width / place.querySelector('svg').getBoundingClientRect().width;
    pulled = {handle: {...handle}, points, x: event.clientX, y: event.clientY};
    pulled.handle.sent = written(handle, handle.number);
    section.classList.add('pulling');
    knob.classList.add('held');
  };
  const pull = (event) => {
    if (!pulled) return;
    if (event.buttons === 0) { release(); return; }  // let go outside the window
    const way = pulled.handle.upright ? event.clientY - pulled.y : event.clientX - pulled.x;
    const number = reached(pulled.handle, way * pulled.points);
    const value = Math.abs(way) < 2 ? pulled.handle.sent : settle(pulled.handle, number, false);
    const held = place.querySelector(`[data-key="${pulled.handle.key}"]`);
    if (held) { held.classList.add('held'); say(held, pulled.handle, value); }
  };
  const release = () => {
    if (!pulled) return;
    change(pulled.handle.key, '', true);
    pulled = null;
    section.classList.remove('pulling');
    for (const held of place.querySelectorAll('.held')) held.classList.remove('held');
  };
  window.addEventListener('pointermove', pull);
  window.addEventListener('pointerup', release);
  window.addEventListener('pointercancel', release);

  const press = (knob, handle, event) => {
    const steps = {ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1, PageUp: 10, PageDown: -10}[event.key];
    if (!steps) return;
    event.preventDefault();
    say(knob, handle, settle(handle, stepped(handle, steps), true));
    handle.number = parseFloat(handle.sent);
  };
  const knobOf = (handle) => {
    const knob = document.createElement('div');
    for (const [name, value] of Object.entries({
      class: 'knob ' + (handle.upright ? 'upright' : 'level'), role: 'slider', tabindex: '0', 'data-key': handle.key,
      'aria-label': handle.label, title: handle.label, 'aria-orientation': handle.upright ? 'vertical' : 'horizontal'})) knob.setAttribute(name, value);
    if (handle.least !== null) knob.setAttribute('aria-valuemin', String(handle.least));
    knob.style.left = 100 * handle.x / drawn.width + '%';
    knob.style.top = 100 * handle.y / drawn.height + '%';
    knob.append(document.createElement('span'));
    handle.sent = written(handle, handle.number);
    say(knob, handle, handle.sent);
    knob.addEventListener('pointerdown', (event) => take(knob, handle, event));
    knob.addEventListener('keydown', (event) => press(knob, handle, event));
    return knob;
  };

  /** Shows a drawing {svg, width, height, handles}; the knob in hand or in focus stays so. */
  const show = (drawing) => {
    drawn = drawing;
    const focus = document.activeElement && place.contains(document.activeElement) ? document.activeElement.dataset.key : '';
    const sheet = document.createElement('div');
    sheet.className = 'sheet';
    sheet.innerHTML = drawing.svg;
    sheet.append(...drawing.handles.map(knobOf));
    place.replaceChildren(sheet);
    section.hidden = false;
    section.classList.remove('old');
    const again = (key) => place.querySelector(`[data-key="${key}"]`);
    if (focus && again(focus)) again(focus).focus({preventScroll: true});
    if (pulled && again(pulled.handle.key)) {
      again(pulled.handle.key).classList.add('held');
      say(again(pulled.handle.key), pulled.handle, pulled.handle.sent);
    }
  };
  return {show};
};
