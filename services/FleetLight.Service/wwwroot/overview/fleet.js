// The fleet in numbers: what there is, how far the work is, what the readings say, what stands. Each number leads to its
// lines below.

import { byId, el, severitySign, signed, verdictSign } from './draw.js';
import { linkTo } from './view.js';
import { count, dayOf, minuteOf, phases, severities, verdicts } from './words.js';

export function showFleet(fleet, view) {
  const numberOf = (part, counts, words, sign, kind, all) => el('ul', { class: part === 'phase' ? 'numbers way' : 'numbers' },
    Object.entries(words).filter(([word]) => all || counts[word]).map(([word, said]) => {
      const number = counts[word] ?? 0;
      const content = [sign?.(word), el('b', null, number.toLocaleString('en')), ` ${said}`];
      const chosen = view[part] === word;
      return el('li', null, number || chosen
        ? el('a', { href: linkTo(view, { [part]: chosen ? '' : word }), class: `${kind}-${word}`, 'aria-current': chosen && 'true' }, content)
        : el('span', { class: 'none' }, content));
    }));

  const verdictsThere = numberOf('verdict', fleet.circuitsByVerdict, verdicts, verdictSign, 'v');
  const alertsThere = numberOf('severity', fleet.openAlertsBySeverity, severities, severitySign, 'a');
  byId('fleet').replaceChildren(
    row('Under care', el('p', { class: 'large' }, el('b', null, count(fleet.circuits, 'circuit')), ' on ', el('b', null, count(fleet.sites, 'site')))),
    row('Readings say', verdictsThere.childElementCount ? verdictsThere : el('p', null, 'Nothing was read yet.')),
    row('Alerts', alertsThere.childElementCount ? alertsThere : el('p', null, 'None stands.')),
    row('Work reached', numberOf('phase', fleet.circuitsByPhase, phases, null, 'p', true)),
    row('Devices', devices(fleet.devices)));
}

function row(name, content) {
  return el('div', null, el('dt', null, name), el('dd', null, content));
}

function devices(list) {
  const seen = list.filter(device => device.lastSeen).sort((one, other) => one.lastSeen.localeCompare(other.lastSeen));
  if (seen.length === 0) return el('p', null, 'None has handed in yet.');
  const text = seen.length === 1
    ? `1 hands in facts, last on ${minuteOf(seen[0].lastSeen)}`
    : `${seen.length} hand in facts; silent longest: ${seen[0].source.split(':').at(-1)}, last heard of on ${dayOf(seen[0].lastSeen)}`;
  return el('p', null, text);
}

/** The bar and its mark, said once in words. */
export function showLegend() {
  byId('legend').replaceChildren(
    signed(verdictSign('within'), 'bar: what the driver should read (95 %); mark: the last reading', 'v-within'));
}
