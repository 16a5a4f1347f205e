// Elements, and the small drawings. One picture language throughout: the bar is what a reading should be, the mark is the
// reading. Wherever a drawing stands, the same is said in words beside it.

const svgSpace = 'http://www.w3.org/2000/svg';

export function byId(id) {
  const found = document.getElementById(id);
  if (!found) throw new Error(`The page has no ${id}.`);
  return found;
}

/** An element with attributes and children; text is only ever text. */
export const el = (name, attributes, ...children) => fill(document.createElement(name), attributes, children);

const svg = (name, attributes, ...children) => fill(document.createElementNS(svgSpace, name), attributes, children);

function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (value !== null && value !== undefined && value !== false) element.setAttribute(name, value === true ? '' : value);
  }
  element.append(...children.flat().filter(child => child !== null && child !== undefined && child !== false));
  return element;
}

const hiddenPicture = (width, height, kind, ...shapes) =>
  svg('svg', { class: kind, width, height, viewBox: `0 0 ${width} ${height}`, 'aria-hidden': 'true', focusable: 'false' }, ...shapes);

/** The sign of a verdict: where the mark lies against the bar. */
export function verdictSign(verdict) {
  const bar = svg('rect', { class: verdict === 'unread' ? 'bar hollow' : 'bar', x: 1.5, y: 3.5, width: 15, height: 9, rx: 1 });
  const marks = {
    within: [bar, svg('circle', { class: 'dot', cx: 9, cy: 8, r: 3.2 })],
    doubtful: [bar, svg('circle', { class: 'dot', cx: 17, cy: 8, r: 3.2 })],
    outside: [bar, svg('path', { class: 'dot', d: 'M24.5 3 L29.5 8 L24.5 13 L19.5 8 Z' })],
    unread: [bar],
    'cannot-be-judged': [svg('path', { class: 'line', d: 'M2 8 H9 M13 8 H16' }), svg('circle', { class: 'dot hollow', cx: 23, cy: 8, r: 3.2 })],
  };
  const width = { doubtful: 21, outside: 31, 'cannot-be-judged': 28 }[verdict] ?? 18;
  return hiddenPicture(width, 16, `sign v-${verdict}`, ...(marks[verdict] ?? [bar]));
}

/** The sign of a severity: one, two or three strokes. */
export function severitySign(severity) {
  const strokes = { notice: [9], warning: [6, 12], serious: [3, 9, 15] }[severity] ?? [];
  return hiddenPicture(18, 16, `sign a-${severity}`,
    ...strokes.map(x => svg('path', { class: 'stroke', d: `M${x} 2 V14` })));
}

/** A reading against its interval. Every bar lies in the middle and has the same width, so that a list can be compared. */
export function strip(expected, value, verdict) {
  const [width, middle, half] = [130, 65, 22];
  const shapes = [svg('path', { class: 'line', d: `M2 11 H${width - 2}` })];
  if (expected) {
    shapes.push(svg('rect', { class: 'bar', x: middle - half, y: 4, width: 2 * half, height: 14, rx: 1 }));
    shapes.push(svg('path', { class: 'tick', d: `M${middle} 4 V18` }));
  }
  if (expected && value !== null && value !== undefined) {
    const reach = Math.max(expected.high - expected.low, 1e-9) / 2;
    const x = middle + ((value - (expected.high + expected.low) / 2) / reach) * half;
    if (x < 8) shapes.push(svg('path', { class: 'dot', d: 'M2 11 L12 5 V17 Z' }));
    else if (x > width - 8) shapes.push(svg('path', { class: 'dot', d: `M${width - 2} 11 L${width - 12} 5 V17 Z` }));
    else if (Math.abs(x - middle) > half) shapes.push(svg('path', { class: 'dot', d: `M${x} 4.5 L${x + 6.5} 11 L${x} 17.5 L${x - 6.5} 11 Z` }));
    else shapes.push(svg('circle', { class: 'dot', cx: x, cy: 11, r: 5 }));
  }
  return hiddenPicture(width, 22, `strip v-${verdict}`, ...shapes);
}

/** A share of a whole, as a bar. */
export const share = part => hiddenPicture(100, 8, 'share',
  svg('rect', { class: 'whole', x: 0.5, y: 0.5, width: 99, height: 7 }),
  svg('rect', { class: 'part', x: 0.5, y: 0.5, width: Math.max(0, Math.min(99, part * 99)), height: 7 }));

/** A title that opens and closes; its name keeps it as it was when its list is made anew. */
export function folded(name, title, ...content) {
  const details = el('details', null, el('summary', null, title), content);
  details.dataset.part = name;
  return details;
}

/** Puts new content into an element; what was unfolded stays so. */
export function replaceIn(element, children) {
  const open = new Set([...element.querySelectorAll('details[open]')].map(each => each.dataset.part));
  element.replaceChildren(...children);
  for (const each of element.querySelectorAll('details')) each.open = open.has(each.dataset.part);
}

/** A word with its sign. */
export const signed = (sign, word, kind) => el('span', { class: `word ${kind}` }, sign, el('span', null, word));
