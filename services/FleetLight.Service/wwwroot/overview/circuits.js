// The circuits, a line each, worst first, filtered by what the address says.

import { byId, el, signed, strip, verdictSign } from './draw.js';
import { linkTo, settle } from './view.js';
import { count, dayOf, phases, reading, span, verdicts } from './words.js';

const few = 200;
const worst = Object.keys(verdicts);
let shown = few;
let shownFor = '';

export function showCircuits({ circuits, siteNames }, view) {
  const { circuit: _, severity: __, ...filter } = view;
  if (shownFor !== JSON.stringify(filter)) {
    shownFor = JSON.stringify(filter);
    shown = few;
  }
  const words = view.q.toLowerCase().split(/\s+/).filter(Boolean);
  const wanted = circuits
    .filter(line => (!view.site || line.siteId === view.site) && (!view.verdict || line.verdict === view.verdict)
      && (!view.phase || line.phase === view.phase) && words.every(word => searchText(line, siteNames).includes(word)))
    .sort((one, other) => worst.indexOf(one.verdict) - worst.indexOf(other.verdict)
      || (siteNames.get(one.siteId) ?? '').localeCompare(siteNames.get(other.siteId) ?? '') || one.id.localeCompare(other.id));

  byId('circuits-count').textContent = wanted.length === circuits.length
    ? `${circuits.length}, worst first`
    : `${wanted.length} of ${circuits.length}${view.phase ? `, ${phases[view.phase] ?? view.phase}` : ''}`;
  byId('circuits').replaceChildren(...(wanted.length
    ? wanted.slice(0, shown).map(line => lineOf(line, siteNames, view))
    : [el('li', { class: 'nothing' }, circuits.length ? 'No circuit matches the filters.' : 'No circuit is known yet.')]));
  const more = byId('circuits-more');
  more.hidden = wanted.length <= shown;
  more.textContent = `Show ${count(Math.min(few, wanted.length - shown), 'more circuit')}`;
  more.onclick = () => {
    shown += few;
    showCircuits({ circuits, siteNames }, view);
  };
  byId('filter-clear').hidden = !(view.q || view.site || view.verdict || view.phase);
}

function searchText(line, siteNames) {
  return `${line.name ?? ''} ${siteNames.get(line.siteId) ?? ''} ${line.id}`.toLowerCase();
}

function lineOf(line, siteNames, view) {
  const { expectedVolts: expected, lastVolts: last } = line;
  return el('li', { class: `circuit v-${line.verdict}` },
    el('p', { class: 'what' },
      el('a', { href: linkTo(view, { circuit: line.id }), id: `line-${line.id}` }, line.name ?? line.id),
      el('span', { class: 'small' }, `${siteNames.get(line.siteId) ?? line.siteId ?? 'site not known yet'} · ${phases[line.phase] ?? line.phase}`)),
    el('div', { class: 'volts' },
      strip(expected, last, line.verdict),
      el('p', { class: 'small' },
        expected ? `should read ${span(expected.low, expected.high, 'V')}` : 'expected volts not known',
        el('br'),
        last === undefined ? 'no volts read yet' : [el('b', null, `read ${reading(last, 'V')}`), line.lastReadAt ? `, ${dayOf(line.lastReadAt)}` : ''])),
    signed(verdictSign(line.verdict), verdicts[line.verdict] ?? line.verdict, `v-${line.verdict}`));
}

/** Fills the filters from the view. */
export function showFilters({ siteNames }, view) {
  const site = byId('filter-site');
  const sites = [...siteNames].sort((one, other) => one[1].localeCompare(other[1]));
  if (view.site && !siteNames.has(view.site)) sites.push([view.site, view.site]);
  choices(site, [['', 'every site'], ...sites], view.site);
  choices(byId('filter-verdict'), [['', 'every verdict'], ...Object.entries(verdicts)], view.verdict);
  const text = byId('filter-text');
  if (document.activeElement !== text) text.value = view.q;
}

function choices(select, options, chosen) {
  const same = select.options.length === options.length && options.every(([value, said], place) =>
    select.options[place].value === value && select.options[place].text === said);
  if (!same) select.replaceChildren(...options.map(([value, said]) => el('option', { value }, said)));
  select.value = chosen;
}

/** Lets the filters change the view. */
export function watchFilters(viewNow) {
  byId('filters').addEventListener('submit', event => event.preventDefault());
  byId('filter-text').addEventListener('input', event => settle(viewNow(), { q: event.target.value }));
  byId('filter-site').addEventListener('change', event => settle(viewNow(), { site: event.target.value }));
  byId('filter-verdict').addEventListener('change', event => settle(viewNow(), { verdict: event.target.value }));
  byId('filter-clear').addEventListener('click', () => {
    byId('filter-text').value = '';
    settle(viewNow(), { q: '', site: '', verdict: '', phase: '' });
    byId('filter-text').focus();
  });
}
