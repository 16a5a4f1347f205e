// What is looked at, kept in the address after '#', so that a view can be sent to a colleague.

import { key } from './api.js';

const names = ['q', 'site', 'verdict', 'phase', 'severity', 'circuit'];

/**
 * What the address says. A key given in it (#key=…) goes into the tab's memory and out of the address at once, before
 * anything else can see it.
 */
export function readView() {
  const given = new URLSearchParams(location.hash.slice(1));
  if (given.has('key')) {
    const text = given.get('key').trim();
    given.delete('key');
    history.replaceState(null, '', given.size > 0 ? `#${given}` : location.pathname + location.search);
    if (text) key.set(text);
  }
  return Object.fromEntries(names.map(name => [name, given.get(name) ?? '']));
}

/** The address of a view that differs from another in some parts. */
export function linkTo(view, change = {}) {
  const next = { ...view, circuit: '', ...change };
  return `#${new URLSearchParams(names.filter(name => next[name]).map(name => [name, next[name]]))}`;
}

/** Changes the address without a step back for each letter typed. */
export function settle(view, change) {
  history.replaceState(null, '', linkTo(view, change));
  dispatchEvent(new HashChangeEvent('hashchange'));
}
