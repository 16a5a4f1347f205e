// The alerts that stand, newest first.

import { byId, el, folded, replaceIn, severitySign, signed } from './draw.js';
import { linkTo } from './view.js';
import { count, minuteOf, plain, severities } from './words.js';

const few = 8;
const rank = { serious: 0, warning: 1, notice: 2 };
let shown = few;

export function showAlerts({ alerts, siteNames, circuitNames }, view) {
  const wanted = alerts
    .filter(alert => (!view.site || alert.siteId === view.site) && (!view.severity || alert.finding.severity === view.severity))
    .sort((one, other) => Date.parse(other.raisedAt) - Date.parse(one.raisedAt)
      || rank[one.finding.severity] - rank[other.finding.severity] || one.id.localeCompare(other.id));
  const parts = [view.severity && severities[view.severity], view.site && (siteNames.get(view.site) ?? view.site)].filter(Boolean);
  byId('alerts-count').replaceChildren(
    parts.length ? `${wanted.length} of ${alerts.length}: ${parts.join(', ')} ` : alerts.length ? `${alerts.length}, newest first` : '',
    parts.length && view.severity ? el('a', { href: linkTo(view, { severity: '' }) }, 'every severity') : '');
  const causes = alike(wanted);
  replaceIn(byId('alerts'), causes.length
    ? causes.slice(0, shown).map(each => line(each, siteNames, circuitNames, view))
    : [el('li', { class: 'nothing' }, alerts.length ? 'No alert of this kind stands here.' : 'No alert stands.')]);
  const more = byId('alerts-more');
  const left = causes.slice(shown).flat().length;
  more.hidden = left === 0 && causes.length <= few;
  more.textContent = left > 0 ? `Show ${count(left, 'more alert')}` : 'Show fewer alerts';
  more.onclick = () => {
    shown = left > 0 ? Number.POSITIVE_INFINITY : few;
    showAlerts({ alerts, siteNames, circuitNames }, view);
  };
}

// Of one rule on one circuit, the first stands for the others.
function alike(alerts) {
  const groups = new Map();
  for (const alert of alerts) {
    const { rule, severity, circuitIds } = alert.finding;
    const same = [rule, severity, alert.siteId, alert.standing, alert.note, circuitIds.length ? circuitIds : alert.id].join('\n');
    groups.set(same, [...(groups.get(same) ?? []), alert]);
  }
  return [...groups.values()];
}

function line([alert, ...others], siteNames, circuitNames, view) {
  const { finding } = alert;
  const circuits = finding.circuitIds.map(id => el('a', { href: linkTo(view, { circuit: id }) }, circuitNames.get(id) ?? id));
  const thing = finding.subject.kind === 'circuit' ? null : `${plain(finding.subject.kind)} ${finding.subject.id}`;
  const where = [siteNames.get(alert.siteId) ?? alert.siteId, thing].filter(Boolean).join(', ');
  return el('li', { class: `alert a-${finding.severity}` },
    el('p', { class: 'first' },
      signed(severitySign(finding.severity), severities[finding.severity] ?? finding.severity, `a-${finding.severity}`),
      el('span', { class: 'small' }, 'since ', el('time', { datetime: alert.raisedAt }, minuteOf(alert.raisedAt)))),
    el('p', null, finding.reason),
    el('p', { class: 'small' }, where, circuits.length > 0 && [thing ? '; touches ' : ', ', ...joined(circuits)]),
    others.length > 0 && folded(alert.id, `and ${others.length} of the same here`,
      el('ul', { class: 'dashes' }, others.map(other => el('li', null, other.finding.reason)))),
    alert.standing === 'acknowledged' && el('p', { class: 'small' },
      `Noted by ${alert.acknowledgedBy ?? 'somebody'}${alert.note ? `: ${alert.note}` : ''}`));
}

const joined = links => links.flatMap((link, place) => (place ? [', ', link] : [link]));
