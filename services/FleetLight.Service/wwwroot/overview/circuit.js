// One circuit: what it should read, what it read, what would explain it, what to do next.

import { byId, el, folded, replaceIn, severitySign, share, signed, strip, verdictSign } from './draw.js';
import {
  capital, count, dayOf, driveOf, factOf, figure, minuteOf, phases, placeOf, plain, quantityOf, reading, severities, span, typeOf, unitOf, verdicts,
} from './words.js';

export function showCircuit(circuit, siteNames) {
  byId('circuit-title').textContent = circuit.name ?? circuit.id;
  replaceIn(byId('circuit'), [
    facts(circuit, siteNames),
    el('div', { class: `verdict v-${circuit.verdict}` },
      signed(verdictSign(circuit.verdict), capital(verdicts[circuit.verdict] ?? circuit.verdict), `v-${circuit.verdict}`),
      el('p', null, circuit.verdictWhy)),
    el('div', { class: 'parts' },
      explanations(circuit), lastReadings(circuit), expected(circuit),
      plainList('Missing for the next phase', circuit.missingForNextPhase, circuit.phase === 'handed-over' ? null : 'Nothing is missing.'),
      findings(circuit), headroom(circuit),
      plainList('Waits for', circuit.waitingFor), plainList('Facts that contradict one another', circuit.contradictions),
      tests(circuit), history(circuit)),
  ].filter(Boolean));
}

export function showNoCircuit(id, why) {
  byId('circuit-title').textContent = id;
  byId('circuit').replaceChildren(el('p', { class: 'note' }, why));
}

function part(title, ...content) {
  return el('section', null, el('h3', null, title), content);
}

function facts(circuit, siteNames) {
  const reached = Object.keys(phases).filter(phase => circuit.phaseReachedAt[phase]
    && (phase !== 'named' || circuit.phaseReachedAt.named !== circuit.phaseReachedAt.designed));
  return el('div', { class: 'about' },
    el('p', null, [
      siteNames.get(circuit.siteId) ?? circuit.siteId ?? 'Site not known yet',
      circuit.drive && driveOf(circuit.drive),
      circuit.fittings.length > 0 && count(circuit.fittings.length, 'fitting'),
      circuit.driverAt && `driver at ${circuit.driverAt}`,
      circuit.id,
    ].filter(Boolean).join(' · ')),
    el('ol', { class: 'numbers way' }, reached.map(phase => el('li', null,
      el('span', { class: phase === circuit.phase ? 'here' : null }, el('b', null, phases[phase]), ` ${dayOf(circuit.phaseReachedAt[phase])}`)))));
}

function explanations({ explanations: list, verdict }) {
  if (list.length === 0) return verdict === 'outside' ? part('What would explain it', el('p', null, 'No single fault explains these readings.')) : null;
  return part('What would explain it', el('ol', { class: 'causes' }, list.map(each => el('li', null,
    el('p', { class: 'first' }, el('b', null, capital(plain(each.fault))),
      el('span', { class: 'small' }, share(each.likelihood), ` ${Math.round(each.likelihood * 100)} % among these`)),
    el('p', null, each.says),
    each.predicts !== undefined && el('p', { class: 'small' }, `It predicts a reading of ${reading(each.predicts, unitOf(each.predictsQuantity))}.`)))),
    el('p', { class: 'small' }, 'Likeliest first. Several things can be wrong at once.'));
}

function lastReadings({ lastReadings: list }) {
  if (list.length === 0) return part('Last readings', el('p', null, 'Nothing was read yet.'));
  const visit = list.filter(each => dayOf(each.happenedAt) === dayOf(list[0].happenedAt));
  const earlier = list.slice(visit.length);
  const lines = some => el('ul', { class: 'lines' }, some.map(each => el('li', { class: `reading v-${each.verdict}` },
    el('p', { class: 'what' },
      el('b', null, reading(each.value, unitOf(each.quantity))),
      el('span', { class: 'small' }, `${placeOf(each)}, ${minuteOf(each.happenedAt)}`)),
    strip(each.expected, each.value, each.verdict),
    signed(verdictSign(each.verdict), verdicts[each.verdict] ?? each.verdict, `v-${each.verdict}`),
    el('p', { class: 'why small' }, each.why))));
  return part('Last readings', lines(visit), earlier.length > 0 && folded('readings', `${count(earlier.length, 'earlier reading')}`, lines(earlier)));
}

function expected({ expected: list, expectedWhyNot }) {
  if (list.length === 0) return part('What it should read', el('p', null, expectedWhyNot ?? 'Nothing is known to expect yet.'));
  return part('What it should read', el('div', { class: 'scroll', tabindex: '0', role: 'region', 'aria-label': 'What it should read' },
    el('table', null,
      el('thead', null, el('tr', null, ['Where', 'What', 'Best estimate', '95 % interval'].map(head => el('th', { scope: 'col' }, head)))),
      el('tbody', null, list.map(({ place, placeId, quantity, expected: value }) => el('tr', null,
        el('th', { scope: 'row' }, placeOf({ place, placeId })),
        el('td', null, quantityOf(quantity)),
        el('td', null, `${figure(value.value)} ${unitOf(quantity)}`),
        el('td', null, span(value.low, value.high, unitOf(quantity)))))))));
}

function plainList(title, list, otherwise) {
  if (list.length === 0) return otherwise ? part(title, el('p', null, otherwise)) : null;
  return part(title, el('ul', { class: 'dashes' }, list.map(each => el('li', null, each))));
}

function findings({ findings: list }) {
  if (list.length === 0) return part('Open findings', el('p', null, 'None.'));
  return part('Open findings', el('ul', { class: 'lines' }, worstFirst(list).map(each => el('li', { class: `alert a-${each.severity}` },
    el('p', { class: 'first' },
      signed(severitySign(each.severity), severities[each.severity] ?? each.severity, `a-${each.severity}`),
      el('span', { class: 'small' }, `${plain(each.subject.kind)} ${each.subject.id}`)),
    el('p', null, each.reason),
    el('p', { class: 'small' }, `What clears it: ${each.remedy}`)))));
}

const rank = Object.keys(severities);
const worstFirst = list => [...list].sort((one, other) => rank.indexOf(one.severity) - rank.indexOf(other.severity));

function headroom({ headroom: room, spareCores }) {
  const lines = [];
  if (room) {
    const load = (percent, left, unit, of) => percent !== undefined && lines.push(el('li', null,
      share(percent / 100), ` ${Math.round(percent)} % of the driver’s ${of}`, left !== undefined && `, ${reading(left, unit)} left`));
    load(room.voltsLoadPercent, room.voltsLeft, 'V', 'volts');
    load(room.wattsLoadPercent, room.wattsLeft, 'W', 'watts');
    if (room.nearLimit) lines.push(el('li', null, el('b', null, 'At or near the limit of the driver.')));
  }
  lines.push(el('li', null, `${count(spareCores, 'spare core')} on its cables`));
  return part('Headroom', el('ul', { class: 'dashes' }, lines));
}

function tests({ tests: list }) {
  if (list.length === 0) return null;
  const says = meets => (meets === undefined ? 'not judged' : meets ? 'meets the value named' : 'does not meet the value named');
  return part('Tests', folded('tests', count(list.length, 'newest test'), el('ul', { class: 'dashes' }, list.map(each => el('li', null,
    el('b', null, `${capital(plain(each.test))}${each.mainsSide ? ', mains side' : ''}: ${says(each.meets)}`),
    el('span', { class: 'small' }, ` ${dayOf(each.happenedAt)}`), el('br'), each.says)))));
}

function history({ facts: list }) {
  if (list.length === 0) return null;
  const lines = some => el('ul', { class: 'dashes' }, some.map(each => el('li', { class: each.corrected ? 'corrected' : null },
    el('b', null, typeOf(each.type)),
    each.corrected && ` (${each.corrected === 'withdraw' ? 'withdrawn' : 'replaced'}${each.correctionReason ? `: ${each.correctionReason}` : ''})`,
    el('span', { class: 'small' }, ` ${minuteOf(each.happenedAt)}, ${factOf(each.fact)}`))));
  const newest = [...list].reverse();
  return part('What happened', lines(newest.slice(0, 6)),
    newest.length > 6 && folded('facts', `${count(newest.length - 6, 'earlier fact')}`, lines(newest.slice(6))));
}
