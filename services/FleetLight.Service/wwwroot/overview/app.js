// Brings the parts together: which state the page is in, when what is read, and what is shown.

import { showAlerts } from './alerts.js';
import { key, KeyProblem, NotFound, read, readAll } from './api.js';
import { showCircuit, showNoCircuit } from './circuit.js';
import { showCircuits, showFilters, watchFilters } from './circuits.js';
import { byId } from './draw.js';
import { follow } from './feed.js';
import { showFleet, showLegend } from './fleet.js';
import { linkTo, readView } from './view.js';
import { count, hourOf } from './words.js';

const views = ['view-key', 'view-wait', 'view-empty', 'view-fleet', 'view-circuit'].map(id => byId(id));

let view = readView();
let data = null; // Fleet, alerts, circuits and names, as last read whole.
let circuit = null; // The one looked at, as last read.
let feed = null;
let readAt = 0;
let session = 0; // Which key's answers count; what was asked with an earlier one is dropped.
let focusAfter = null;

function show(id) {
  for (const each of views) each.hidden = each.id !== id;
  byId('forget').hidden = id === 'view-key';
}

function say(text) {
  if (byId('state').textContent !== text) byId('state').textContent = text;
}

function askForKey(problem) {
  session += 1;
  feed?.stop();
  feed = null;
  data = null;
  circuit = null;
  key.drop();
  byId('stale').hidden = true;
  say('');
  document.title = 'FleetLight';
  byId('key-error').textContent = problem?.message ?? '';
  byId('key-field').value = '';
  if (problem) byId('key-field').setAttribute('aria-invalid', 'true');
  else byId('key-field').removeAttribute('aria-invalid');
  show('view-key');
  byId('key-field').focus();
}

function open() {
  session += 1;
  feed?.stop();
  feed = null;
  data = null;
  circuit = null;
  byId('wait-title').textContent = 'Reading the fleet …';
  byId('wait-text').textContent = '';
  byId('wait-again').hidden = true;
  show('view-wait');
  feed = follow(onChange, onFeed, askForKey);
  void refresh({ all: true });
}

// ---- reading ----

let wanted = new Set();
let busy = false;
let timer = 0;
let lastTook = 0;

function onChange(kinds, all) {
  if (!data || all) wanted.add('all');
  for (const kind of kinds) wanted.add(kind);
  // The more there is to read again, the rarer it is read.
  if (!timer && !busy) timer = setTimeout(() => void refresh(), Math.max(700, Math.min(60_000, lastTook * 10)));
}

async function refresh({ all = false } = {}) {
  clearTimeout(timer);
  timer = 0;
  if (all) wanted.add('all');
  if (busy) return;
  busy = true;
  const [mine, kinds, began] = [session, wanted, performance.now()];
  wanted = new Set();
  const needs = kind => !data || kinds.has('all') || kinds.has(kind);
  try {
    const progress = number => { if (!data) byId('wait-text').textContent = count(number, 'circuit'); };
    const [fleet, alerts, sites, circuits] = await Promise.all([
      read('/v1/fleet'),
      needs('alert') ? readAll('/v1/alerts') : data.alerts,
      needs('site') ? readAll('/v1/sites') : data.sites,
      needs('circuit') ? readAll('/v1/circuits', progress) : data.circuits,
    ]);
    if (mine !== session) return;
    data = {
      fleet, alerts, sites, circuits,
      siteNames: new Map(sites.map(site => [site.id, site.name ?? site.id])),
      circuitNames: new Map(circuits.map(line => [line.id, line.name ?? line.id])),
    };
    readAt = Date.now();
    lastTook = performance.now() - began;
    onFeed('following');
    await readCircuit(true);
    render();
  } catch (failed) {
    for (const kind of kinds) wanted.add(kind);
    if (mine !== session) return;
    if (failed instanceof KeyProblem) askForKey(failed);
    else onFeed('lost');
  } finally {
    busy = false;
    if (mine !== session) {
      if (key.get() && !data) void refresh({ all: true });
    } else if (wanted.size > 0 && !timer) {
      timer = setTimeout(() => void refresh(), Math.max(2_000, lastTook * 10));
    }
  }
}

async function readCircuit(again) {
  const id = view.circuit;
  if (!id) circuit = null;
  if (!id || (!again && circuit?.id === id)) return;
  const mine = session;
  try {
    const found = await read(`/v1/circuits/${encodeURIComponent(id)}`);
    if (mine === session && view.circuit === id) circuit = { id, found };
  } catch (failed) {
    if (mine !== session || view.circuit !== id) return;
    if (failed instanceof KeyProblem) askForKey(failed);
    else if (failed instanceof NotFound) circuit = { id, why: failed.message };
    else if (circuit?.id !== id) circuit = { id, why: 'The service does not answer. This circuit is shown as soon as it does.' };
  }
}

function onFeed(state, wait) {
  const lost = state === 'lost';
  if (data) {
    say(lost ? 'Out of touch' : 'Follows what changes');
    byId('stale').hidden = !lost;
    if (lost) byId('stale').textContent = `The service does not answer. What you see is from ${hourOf(readAt)}; it is tried again by itself.`;
  } else if (lost && !byId('view-wait').hidden) {
    byId('wait-title').textContent = 'The service does not answer';
    byId('wait-text').textContent = `It is tried again ${wait ? `in ${Math.round(wait / 1000)} s` : 'in a moment'}. `
      + 'If it stays so, look whether it runs where this page came from, and whether you are on the network.';
    byId('wait-again').hidden = false;
  }
}

// ---- showing ----

function render() {
  if (!data) return;
  const empty = data.fleet.sites === 0 && data.circuits.length === 0;
  if (view.circuit) {
    document.title = `${circuit?.found?.name ?? view.circuit} – FleetLight`;
    byId('circuit-back').setAttribute('href', linkTo(view));
    if (circuit?.found) showCircuit(circuit.found, data.siteNames);
    else showNoCircuit(view.circuit, circuit?.why ?? 'Reading the circuit …');
    show('view-circuit');
  } else if (empty) {
    document.title = 'FleetLight';
    show('view-empty');
  } else {
    document.title = 'FleetLight';
    const held = document.activeElement;
    const link = byId('view-fleet').contains(held) ? held.getAttribute('href') : null;
    const list = link && held.closest('ul, dl')?.id;
    showFleet(data.fleet, view);
    showAlerts(data, view);
    showFilters(data, view);
    showCircuits(data, view);
    show('view-fleet');
    // Lists are made anew: whoever stood on a link in one still does.
    if (list && !held.isConnected) document.querySelector(`#${CSS.escape(list)} a[href="${CSS.escape(link)}"]`)?.focus({ preventScroll: true });
  }
  focusAfter?.();
  focusAfter = null;
}

async function onAddress() {
  const before = view;
  const keyBefore = key.get();
  view = readView();
  if (key.get() !== keyBefore && key.get()) {
    open();
    return;
  }
  if (!data) return;
  if (view.circuit !== before.circuit) {
    focusAfter = () => {
      scrollTo(0, view.circuit ? 0 : scrollY);
      const line = view.circuit ? null : document.getElementById(`line-${before.circuit}`);
      (line ?? byId(view.circuit ? 'circuit-title' : 'circuits-title')).focus();
    };
  }
  if (view.circuit) {
    if (circuit?.id !== view.circuit) render();
    await readCircuit(false);
    if (!key.get()) return;
  } else circuit = null;
  render();
}

byId('key-form').addEventListener('submit', event => {
  event.preventDefault();
  const text = byId('key-field').value.trim().replace(/^Bearer\s+/i, '');
  if (!text) {
    byId('key-error').textContent = 'Paste a key first.';
    byId('key-field').focus();
    return;
  }
  byId('key-field').value = '';
  key.set(text);
  open();
});
byId('fleet').addEventListener('click', event => {
  const link = event.target.closest('a');
  if (!link) return;
  // The lines that a number leads to may be out of sight on a phone.
  const title = byId(/(^|[ -])a-/.test(link.className) ? 'alerts-title' : 'circuits-title');
  focusAfter = () => {
    title.focus({ preventScroll: true });
    if (title.getBoundingClientRect().bottom > innerHeight - 160) title.scrollIntoView();
  };
});
byId('forget').addEventListener('click', () => askForKey());
byId('wait-again').addEventListener('click', () => { feed?.wake(); void refresh({ all: true }); });
byId('skip').addEventListener('click', event => { event.preventDefault(); byId('main').focus(); });
addEventListener('hashchange', () => void onAddress());
addEventListener('online', () => feed?.wake());
watchFilters(() => view);
showLegend();
if (key.get()) open();
else askForKey();
