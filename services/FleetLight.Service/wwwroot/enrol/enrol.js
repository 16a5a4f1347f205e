// Hands out codes that enrol devices; and, opened with a code behind '#', says what to do with it. A code given in the
// address is shown and sent nowhere.

import { call, key, KeyProblem, readAll } from '/overview/api.js';
import { byId, el } from '/overview/draw.js';

const views = ['view-code', 'view-key', 'view-office'].map(id => byId(id));
let openList = [];

function show(id) {
  for (const each of views) each.hidden = each.id !== id;
  byId('forget').hidden = id !== 'view-office';
}

const command = code => `fleetlight-field enrol ${location.origin} ${code}`;

const moment = text => new Date(text).toLocaleString([], { weekday: 'short', day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' });

/** The code in the address; it leaves the address at once. */
function codeGiven() {
  const text = decodeURIComponent(location.hash.slice(1)).trim();
  if (!/^[0-9A-Za-z]{4}(-?[0-9A-Za-z]{4}){2}$/.test(text)) return '';
  history.replaceState(null, '', location.pathname);
  return text.toUpperCase();
}

function askForKey(problem) {
  key.drop();
  byId('key-error').textContent = problem?.message ?? '';
  byId('key-field').toggleAttribute('aria-invalid', Boolean(problem));
  show('view-key');
  byId('key-field').focus();
}

async function openOffice() {
  try {
    const [list, sites] = await Promise.all([readAll('/v1/enrolments'), readAll('/v1/sites')]);
    openList = list;
    showSites(sites);
    showOpen();
    show('view-office');
    byId('ask-name').focus();
  } catch (failed) {
    if (failed instanceof KeyProblem && failed.status === 403)
      askForKey(new Error('This key is in force, but it may not enrol devices. Ask for one of the office.'));
    else askForKey(failed);
  }
}

function showSites(sites) {
  byId('ask-sites-box').hidden = sites.length === 0;
  byId('ask-sites').replaceChildren(...sites.map(site =>
    el('label', null, el('input', { type: 'checkbox', value: site.id }), site.name ?? site.id)));
}

function stateOf(one) {
  if (one.usedAt) return `used ${moment(one.usedAt)}`;
  if (one.withdrawnAt) return `taken back ${moment(one.withdrawnAt)}`;
  return new Date(one.expiresAt) < new Date() ? `ran out ${moment(one.expiresAt)}` : `good until ${moment(one.expiresAt)}`;
}

const isOpen = one => !one.usedAt && !one.withdrawnAt && new Date(one.expiresAt) >= new Date();

function showOpen() {
  const lines = openList.map(one => {
    const back = isOpen(one) ? el('button', { type: 'button', class: 'plain' }, 'Take back') : null;
    back?.addEventListener('click', () => void takeBack(one));
    return el('li', { class: isOpen(one) ? 'handed' : 'handed used' },
      el('span', null, el('b', null, one.name), ` – ${one.role}, ${stateOf(one)}`), back);
  });
  byId('open').replaceChildren(...(lines.length > 0 ? lines : [el('li', { class: 'nothing' }, 'None yet.')]));
}

async function takeBack(one) {
  try {
    await call(`/v1/enrolments/${encodeURIComponent(one.id)}`, { method: 'DELETE' });
    byId('state').textContent = `The code for ${one.name} is taken back.`;
    byId('made').hidden = true;
    openList = await readAll('/v1/enrolments');
    showOpen();
    byId('open-title').focus();
  } catch (failed) {
    byId('state').textContent = failed.message;
  }
}

function showMade(made, name) {
  // The picture comes from this service as SVG; it is read as a picture, never as part of the page's own markup.
  const picture = new DOMParser().parseFromString(made.qrSvg, 'image/svg+xml').documentElement;
  picture.setAttribute('role', 'img');
  picture.setAttribute('aria-label', 'The code as a picture to scan');
  byId('made-picture').replaceChildren(document.importNode(picture, true));
  byId('made-title').textContent = `For ${name}`;
  byId('made-code').textContent = made.code;
  byId('made-until').textContent = `Good once, until ${moment(made.expiresAt)}.`;
  byId('made-command').textContent = command(made.code);
  byId('made').hidden = false;
  byId('made-title').focus();
}

async function makeCode() {
  const name = byId('ask-name').value.trim();
  byId('ask-error').textContent = name ? '' : 'Give the device a name, as the crew calls it.';
  byId('ask-name').toggleAttribute('aria-invalid', !name);
  if (!name) {
    byId('ask-name').focus();
    return;
  }
  const sites = [...byId('ask-sites').querySelectorAll('input:checked')].map(box => box.value);
  try {
    const answer = await call('/v1/enrolments', {
      method: 'POST',
      body: { name, role: byId('ask-role').value, hoursValid: Number(byId('ask-hours').value), ...(sites.length > 0 && { sites }) },
    });
    showMade(await answer.json(), name);
    byId('ask-form').reset();
    openList = await readAll('/v1/enrolments');
    showOpen();
  } catch (failed) {
    if (failed instanceof KeyProblem && failed.status === 401) askForKey(failed);
    else byId('ask-error').textContent = failed.message;
  }
}

byId('key-form').addEventListener('submit', event => {
  event.preventDefault();
  const text = byId('key-field').value.trim().replace(/^Bearer\s+/i, '');
  byId('key-field').value = '';
  if (!text) {
    byId('key-error').textContent = 'Paste a key first.';
    byId('key-field').focus();
    return;
  }
  key.set(text);
  void openOffice();
});
byId('ask-form').addEventListener('submit', event => { event.preventDefault(); void makeCode(); });
byId('forget').addEventListener('click', () => askForKey());
byId('skip').addEventListener('click', event => { event.preventDefault(); byId('main').focus(); });

const given = codeGiven();
if (given) {
  byId('code-given').textContent = given;
  byId('code-command').textContent = command(given);
  show('view-code');
  byId('code-title').focus();
} else if (key.get()) void openOffice();
else askForKey();
