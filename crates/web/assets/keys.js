// Keys for a keyboard. The pages work without this; it only presses what is there to be pressed.

// A row is the innermost line of a list or table, outside of what leads to other pages.
const ROWS = 'main li, main tr, main .female';
const OPENS = 'a[href], button, summary, input[type="checkbox"], input[type="radio"]';
const SECOND_KEY_WITHIN = 1500;

const first = (selector) => document.querySelector(selector);
const dialog = first('dialog#keys');
let awaitsPage = 0;

/** Whether keys are text here: a field that takes some. */
function isTyping(element) {
  const field = element.closest?.('input, textarea, select, [contenteditable]');
  return Boolean(field) && !['radio', 'checkbox', 'submit', 'button'].includes(field.type);
}

function showList() {
  if (dialog.open) dialog.close();
  else dialog.showModal();
}

function goTo(letter) {
  first(`nav a[data-key="${CSS.escape(letter)}"]`)?.click();
}

/** What a row is opened with: the first thing in it that can be seen and pressed. */
function openedBy(row) {
  return [...row.querySelectorAll(OPENS)].find((element) => element.checkVisibility());
}

/** Moves the focus to the row after or before the one that has it. */
function step(by) {
  const rows = [...document.querySelectorAll(ROWS)]
    .filter((row) => !row.closest('nav') && !row.querySelector(ROWS) && openedBy(row));
  const at = rows.findLastIndex((row) => row.contains(document.activeElement));
  const to = at < 0 ? (by > 0 ? 0 : rows.length - 1) : at + by;
  if (rows[to]) openedBy(rows[to]).focus();
}

function find() {
  const field = first('input[name="find"]');
  if (field) field.select();
  else location.assign(`${first('nav a[href^="/animals"]').href}#find`);
}

function answer(nth) {
  const choice = document.querySelectorAll('form[data-keys] input[type="radio"]')[nth - 1];
  if (!choice) return;
  choice.checked = true;
  choice.focus();
}

/** Enter where nothing has the focus: save. With the focus on something the browser knows. */
function save() {
  if (document.activeElement === document.body) first('form[data-keys]')?.requestSubmit();
}

const KEYS = {
  '?': showList,
  g: () => { awaitsPage = Date.now(); },
  j: () => step(1),
  k: () => step(-1),
  '/': find,
  u: () => first('form.notice button')?.click(),
  Enter: save,
};

addEventListener('keydown', (event) => {
  if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing) return;
  if (event.key === 'Escape' && isTyping(event.target)) event.target.blur();
  if (event.repeat && event.key !== 'j' && event.key !== 'k') return;
  if (isTyping(event.target) || (dialog.open && event.key !== '?')) return;
  const isSecond = Date.now() - awaitsPage < SECOND_KEY_WITHIN;
  awaitsPage = 0;
  if (isSecond && /^[a-z]$/.test(event.key)) goTo(event.key);
  else if (/^[1-9]$/.test(event.key)) answer(Number(event.key));
  else if (Object.hasOwn(KEYS, event.key)) KEYS[event.key]();
  else return;
  if (event.key !== 'Enter') event.preventDefault();
});

if (location.hash === '#find') first('input[name="find"]')?.focus();
