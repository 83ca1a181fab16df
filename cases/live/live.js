// The live page: sends every change of the case, shows what comes back.
(() => {
  'use strict';
  const id = (name) => document.getElementById(name);
  const text = id('text'), fields = id('fields'), said = id('said');
  const history = [], variants = [];
  let place = -1;        // in the history
  let waiting = null;    // the change to send next
  let sending = false, pulling = false, stream = null, change = 0, latest = null;
  let figures = [], values = [], timer = 0;
  const known = {};      // limits and cautions shown last

  // The token stays out of what the browser remembers and shows; the cookie replaces it.
  window.history.replaceState(null, '', '/');

  const element = (kind, words, attributes = {}) => {
    const made = document.createElement(kind);
    if (words !== undefined) made.textContent = words;
    for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
    return made;
  };
  const post = async (path, body) => {
    const reply = await fetch(path, {
      method: 'POST', headers: {'Content-Type': 'application/json'}, body: JSON.stringify(body)
    });
    if (reply.status === 413) return {wrong: 'The text is longer than 256 kB.'};
    return reply.json();
  };
  const gone = () => {
    id('computing').textContent = 'The program has ended: start it again in the terminal.';
  };

  // --- The text and its history.
  const remember = (words) => {
    if (history[place] === words) return;
    history.splice(place + 1);
    history.push(words);
    if (history.length > 500) history.shift();
    place = history.length - 1;
    showButtons();
  };
  const showButtons = () => {
    id('undo').disabled = place <= 0;
    id('redo').disabled = place >= history.length - 1;
    id('keep').disabled = figures.length === 0;
  };
  const go = (step) => {
    if (timer) flush();
    if (place + step < 0 || place + step >= history.length) return;
    place += step;
    text.value = history[place];
    send({});
    showButtons();
  };
  /** A size pulled in the drawing: one step of the history, however many changes it took. */
  const drawing = pullableDrawing(id('drawing'), (key, value, done) => {
    if (timer) flush();
    pulling = !done;
    if (value) send({key, value});
    else if (!sending) remember(text.value);
  });
  const flush = () => {
    clearTimeout(timer);
    timer = 0;
    remember(text.value);
  };

  // --- A change is sent as soon as the one before has been answered; of several only the last.
  const send = (change) => {
    waiting = change;
    if (!sending) void sendAll();
    showComputing();
  };
  const sendAll = async () => {
    sending = true;
    try {
      while (waiting) {
        const change = {...waiting, text: text.value};
        waiting = null;
        const answer = await post('/change', change);
        if (answer.wrong) { said.textContent = answer.wrong; continue; }
        if (change.key) {
          if (text.value === change.text) text.value = answer.text;
          if (!pulling && !waiting) remember(text.value);
        }
        if (!waiting) take(answer);
        else if (answer.drawing) drawing.show(answer.drawing);
      }
      sending = false;
      showComputing();
    } catch { sending = false; gone(); }
  };
  const take = (answer) => {
    id('crossed').hidden = true;
    said.textContent = answer.field || (answer.saved ? '' : 'Not saved yet.');
    showFields(answer.fields);
    showMistakes(answer.mistakes, answer.warnings);
    if (answer.drawing) drawing.show(answer.drawing);
    change = answer.change;
    for (const section of document.querySelectorAll('#answer section:not(#variants, #sweep)'))
      section.classList.toggle('old', section.dataset.change !== String(change));
    if (id('failed').dataset.change !== String(change)) id('failed').hidden = true;
    if (!stream) listen(answer.sequence);
  };

  // --- Fields above the text.
  const showFields = (list) => {
    const same = list.length === values.length && list.every((field, i) => field.key === values[i].key);
    for (const input of fields.querySelectorAll('input')) input.disabled = list.length === 0;
    if (list.length === 0) return;
    values = list;
    sweep.offer(list);
    if (!same) fields.replaceChildren(...list.map(fieldOf));
    for (const field of list) {
      const input = id('field-' + field.key);
      if (document.activeElement !== input || input.dataset.sent === input.value) input.value = field.value;
    }
  };
  const fieldOf = (field) => {
    const box = element('div');
    const input = element('input', undefined, {id: 'field-' + field.key, autocomplete: 'off', spellcheck: 'false'});
    if (field.key.endsWith('.material')) input.setAttribute('list', 'materials');
    else input.title = 'Arrow up and down change the last digit';
    input.addEventListener('change', () => changeField(field.key, input));
    input.addEventListener('keydown', (event) => stepField(field.key, input, event));
    box.append(element('label', field.label, {for: input.id}), input);
    return box;
  };
  const changeField = (key, input) => {
    const known = values.find((field) => field.key === key);
    if (input.value.trim() === '') { input.value = known.value; return; }
    if (input.value === known.value) return;
    if (timer) flush();
    input.dataset.sent = input.value;
    known.value = input.value;
    send({key, value: input.value.trim()});
  };
  const stepField = (key, input, event) => {
    const number = /^(\d+)(\.\d+)?/.exec(input.value);
    if (!number || (event.key !== 'ArrowUp' && event.key !== 'ArrowDown')) return;
    event.preventDefault();
    const digits = number[2] ? number[2].length - 1 : 0;
    const next = Number(number[0]) + (event.key === 'ArrowUp' ? 1 : -1) * 10 ** -digits;
    if (next <= 0) return;
    input.value = next.toFixed(digits) + input.value.slice(number[0].length);
    changeField(key, input);
  };

  // --- What is wrong, with its line.
  const showMistakes = (mistakes, warnings) => {
    const list = element('ul', undefined, {class: 'notes'});
    const add = (found, kind) => {
      const row = element('li', undefined, {class: kind});
      if (found.line > 0) {
        const go = element('button', `Line ${found.line}`, {type: 'button', class: 'place'});
        go.addEventListener('click', () => selectLine(found.line));
        row.append(go, ' ');
      }
      row.append((found.key ? found.key + ': ' : '') + found.message);
      list.append(row);
    };
    for (const found of mistakes) add(found, 'stop');
    for (const found of warnings) add(found, '');
    id('mistakes').replaceChildren(...(list.children.length ? [list] : []));
    text.setAttribute('aria-invalid', String(mistakes.length > 0));
  };
  const selectLine = (line) => {
    const lines = text.value.split('\n');
    const from = lines.slice(0, line - 1).reduce((sum, one) => sum + one.length + 1, 0);
    text.focus();
    text.setSelectionRange(from, from + (lines[line - 1] || '').length);
    text.scrollTop = Math.max(0, (line - 4) * text.scrollHeight / lines.length);
  };

  // --- The answer, part by part.
  const listen = (after) => {
    let lost = 0;
    stream = new EventSource('/events?after=' + after);
    stream.onmessage = (event) => showAnswer(JSON.parse(event.data));
    stream.onopen = () => { clearTimeout(lost); showComputing(); };
    stream.onerror = () => { clearTimeout(lost); lost = setTimeout(gone, 5000); };
  };
  const accuracy = () => !sending && latest && latest.change === change ? latest.accuracy : '';
  const showComputing = () => {
    const what = sending ? 'the change' : latest && latest.change === change ? latest.computing : 'the states';
    id('computing').textContent = text.getAttribute('aria-invalid') === 'true' ?
      'The case has mistakes. The figures are those of the last text without one.' : what && accuracy() ?
        `All figures are computed at accuracy ${accuracy()}; the same follows at accuracy normal.` : what ?
          `Being computed at accuracy fast: ${what}.` : `All figures are computed at accuracy ${accuracy() || 'fast'}.`;
  };
  /** An answer to a text of another window is not shown; one may come before its change is confirmed. */
  const showAnswer = (answer) => {
    showReport(answer);
    if (answer.sweep !== id('sweep-says').textContent) id('sweep-says').textContent = answer.sweep;
    if (answer.parts.sweep) showPart('sweep', answer.parts.sweep, 0);
    if (answer.change < change || (answer.change > change && !sending)) return;
    latest = answer;
    showComputing();
    for (const [name, part] of Object.entries(answer.parts)) {
      if (name === 'figures') figures = part;
      else if (name === 'sweep') continue;
      else if (name === 'lamps') showLamps(part);
      else if (name === 'failed') showFailure(part, answer.change);
      else showPart(name, part, answer.change);
    }
    if (answer.accuracy && known.compared !== answer.change) {
      known.compared = answer.change;
      compareWithBefore();
    }
    showVariants();
    showButtons();
  };
  const showPart = (name, html, of) => {
    const section = id(name), part = section.querySelector('.part');
    if (part.innerHTML !== html) part.innerHTML = html;
    section.hidden = html === '' && name !== 'verdict';
    section.dataset.change = of;
    section.classList.remove('old');
  };
  // --- Limits at a glance, and what a change has just done to them.
  const rank = {ok: 0, near: 1, past: 2};
  const showLamps = (lamps) => {
    id('lamps').replaceChildren(...lamps.map((lamp) => element('li',
      `${lamp.part}: ${lamp.word}${lamp.nearness ? ', ' + lamp.nearness : ''}`, {class: lamp.word})));
    known.lamps = lamps;
  };
  /** A caution without its figures, which every change moves a little. */
  const topic = (line) => line.replace(/[\d.,]+/g, '');
  /** When all is computed for the first time: which limits and cautions this text meets and the one before did not. */
  const compareWithBefore = () => {
    const now = {lamps: known.lamps || [],
                 care: [...id('care').querySelectorAll('li, p')].map((line) => line.textContent)};
    const before = known.whole;
    known.whole = now;
    if (!before) return;
    const rankOf = (part) => rank[before.lamps.find((lamp) => lamp.part === part)?.word ?? 'ok'];
    warn([...now.lamps.filter((lamp) => rank[lamp.word] > rankOf(lamp.part)).map((lamp) =>
      `Now ${lamp.word} its limit: ${lamp.part}${lamp.nearness ? ', ' + lamp.nearness : ''}.`),
          ...now.care.filter((line) => !before.care.some((old) => topic(old) === topic(line)))]);
  };
  /** Stays until it is read, or until the next change. */
  const warn = (lines) => {
    if (lines.length === 0) return;
    const seen = element('button', 'Seen', {type: 'button'});
    seen.addEventListener('click', () => { id('crossed').hidden = true; });
    id('crossed').replaceChildren(...lines.map((line) => element('p', line)), seen);
    id('crossed').hidden = false;
  };
  const showFailure = (words, of) => {
    id('failed').dataset.change = of;
    id('failed').hidden = words === '';
    id('failed').textContent = words;
  };
  const showReport = (answer) => {
    if (!answer.report || id('report').dataset.asked !== 'yes') return;
    said.textContent = answer.report + ' ';
    if (answer.reporting) return;
    id('report').dataset.asked = '';
    id('report').disabled = false;
    if (answer.report.startsWith('Written'))
      said.append(element('a', 'Open the report', {href: '/report', target: '_blank', rel: 'noopener'}));
  };

  // --- Variants side by side.
  const rowsOf = (variant) => new Map([['Accuracy', variant.accuracy], ...variant.values.map((field) => [field.label, field.value]), ...variant.figures]);
  const showVariants = () => {
    id('variants').hidden = variants.length === 0;
    if (variants.length === 0) return;
    const all = [{name: 'Now', values, figures, accuracy: accuracy()}, ...variants], rows = all.map(rowsOf);
    const names = [...new Set(rows.flatMap((row) => [...row.keys()]))];
    const differ = names.filter((name) => new Set(rows.map((row) => row.get(name))).size > 1);
    const table = element('table'), head = element('tr'), body = element('tbody');
    head.append(element('th', 'What differs', {scope: 'col'}), ...all.map(headOf));
    for (const name of differ) {
      const line = element('tr');
      line.append(element('th', name, {scope: 'row'}), ...rows.map((row) => element('td', row.get(name) ?? '\u2013')));
      body.append(line);
    }
    const top = element('thead');
    top.append(head);
    table.append(element('caption', differ.length ? 'Variants' : 'No value differs yet'), top, body);
    const scroll = element('div', undefined, {class: 'scroll', role: 'region', tabindex: '0', 'aria-label': 'Variants'});
    scroll.append(table);
    id('variants').querySelector('.part').replaceChildren(scroll);
  };
  const headOf = (variant) => {
    const head = element('th', variant.name, {scope: 'col'});
    if (!variant.text) return head;
    const back = element('button', 'Go back to it', {type: 'button', class: 'place'});
    back.addEventListener('click', () => {
      if (timer) flush();
      text.value = variant.text;
      remember(text.value);
      send({});
    });
    head.append(element('br'), back);
    return head;
  };

  // --- Buttons and keys.
  id('undo').addEventListener('click', () => go(-1));
  id('redo').addEventListener('click', () => go(1));
  id('keep').addEventListener('click', () => {
    variants.push({name: `Variant ${variants.length + 1}`, text: text.value,
                   values: values.map((field) => ({...field})), figures: [...figures], accuracy: accuracy()});
    showVariants();
    said.textContent = `Kept as variant ${variants.length}.`;
  });
  id('save').addEventListener('click', async () => {
    try {
      const answer = await post('/save', {text: text.value});
      said.textContent = answer.wrong || `Saved to ${answer.saved}.`;
    } catch { gone(); }
  });
  id('report').addEventListener('click', async () => {
    try {
      const answer = await post('/report', {text: text.value});
      said.textContent = answer.wrong || answer.report;
      if (answer.wrong) return;
      id('report').dataset.asked = 'yes';
      id('report').disabled = true;
    } catch { gone(); }
  });
  const sweep = sweepForm(id('sweep-form'), async (keys) => {
    try {
      const answer = await post('/sweep', {text: text.value, keys});
      id('sweep-says').textContent = answer.wrong || answer.sweep;
    } catch { gone(); }
  });
  const starters = id('starters');
  void fetch('/starters').then((reply) => reply.json()).then((answer) => {
    for (const one of answer.starters) starters.append(new Option(`${one.name}: ${one.title}`, one.text));
  });
  starters.addEventListener('change', () => {
    if (starters.value === '') return;
    if (timer) flush();
    text.value = starters.value;
    starters.selectedIndex = 0;
    remember(text.value);
    send({});
  });
  fields.addEventListener('submit', (event) => event.preventDefault());
  text.addEventListener('input', () => {
    clearTimeout(timer);
    timer = setTimeout(() => { flush(); send({}); }, 250);
  });
  document.addEventListener('keydown', (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    const key = event.key.toLowerCase();
    const step = key === 'z' ? (event.shiftKey ? 1 : -1) : key === 'y' ? 1 : 0;
    if (step !== 0) { event.preventDefault(); go(step); }
    if (key === 's') { event.preventDefault(); id('save').click(); }
  });

  remember(text.value);
  send({});
})();
