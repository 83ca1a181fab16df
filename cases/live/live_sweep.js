// The form of the live page that asks for a sweep over one or two values.
const sweepForm = (form, start) => {
  'use strict';
  const rows = [...form.querySelectorAll('[data-axis]')];
  const part = (row, name) => row.querySelector(`[data-part="${name}"]`);
  let fields = [];

  /** A value times a factor, in its own unit, with two digits more than a whole step needs. */
  const scaled = (value, factor) => {
    const [, number, unit] = /^(\d+(?:\.\d+)?)\s*(.*)$/.exec(value);
    const whole = unit === '' && Number.isInteger(Number(number));
    const result = Number(number) * factor;
    return (whole ? String(Math.max(1, Math.round(result))) : String(Number(result.toPrecision(3)))) + (unit ? ' ' + unit : '');
  };
  const suggest = (row) => {
    const field = fields.find((one) => one.key === part(row, 'key').value);
    for (const name of ['from', 'to', 'count']) part(row, name).disabled = !field;
    part(row, 'from').value = field ? scaled(field.value, 0.75) : '';
    part(row, 'to').value = field ? scaled(field.value, 1.25) : '';
  };
  for (const row of rows) part(row, 'key').addEventListener('change', () => suggest(row));

  form.addEventListener('submit', (event) => {
    event.preventDefault();
    const keys = rows.filter((row) => part(row, 'key').value !== '').map((row) => ({
      key: part(row, 'key').value, from: part(row, 'from').value.trim(), to: part(row, 'to').value.trim(),
      count: part(row, 'count').value}));
    if (keys.length > 0) start(keys);
  });

  /** The fields of the case; those that are a number can be swept. A choice made before stays. */
  const offer = (all) => {
    // The number of cans changes the bank, which a sweep over one key cannot.
    const swept = all.filter((field) => field.key !== 'tank.cans' && /^\d+(\.\d+)?(\s|$)/.test(field.value) && Number.parseFloat(field.value) > 0);
    if (swept.map((field) => field.key).join() === fields.map((field) => field.key).join()) { fields = swept; return; }
    fields = swept;
    rows.forEach((row, i) => {
      const chosen = part(row, 'key').value;
      const options = swept.map((field) => new Option(field.label, field.key));
      part(row, 'key').replaceChildren(...(i > 0 ? [new Option('nothing else', '')] : []), ...options);
      if (swept.some((field) => field.key === chosen)) part(row, 'key').value = chosen;
      else suggest(row);
    });
  };
  return {offer};
};
