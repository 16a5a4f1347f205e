// The words for what the API says in short, and how numbers and times are written.

export const verdicts = {
  outside: 'outside',
  doubtful: 'doubtful',
  'cannot-be-judged': 'cannot be judged',
  unread: 'not read yet',
  within: 'within',
};

export const phases = {
  named: 'named',
  designed: 'designed',
  cabled: 'cabled',
  fitted: 'fitted',
  connected: 'connected',
  energised: 'energised',
  proven: 'proven',
  'handed-over': 'handed over',
};

export const severities = { serious: 'serious', warning: 'warning', notice: 'notice' };

const drives = { 'constant-current': 'constant current, in series', 'constant-voltage': 'constant voltage' };
const units = { 'volts-dc': 'V', milliamps: 'mA', 'loop-ohms': 'Ω' };
const quantities = { 'volts-dc': 'volts DC', milliamps: 'current', 'loop-ohms': 'loop resistance' };

const noBreak = '\u00a0';

/** Words joined by hyphens, apart. */
export const plain = word => (word ?? '').replaceAll('-', ' ');
export const capital = text => text.charAt(0).toUpperCase() + text.slice(1);
export const driveOf = drive => drives[drive] ?? plain(drive);
export const unitOf = quantity => units[quantity] ?? '';
export const quantityOf = quantity => quantities[quantity] ?? plain(quantity);
export const placeOf = reading => reading.placeId ? `${plain(reading.place)} ${reading.placeId}` : plain(reading.place);
export const count = (number, one, many = `${one}s`) => `${number.toLocaleString('en')} ${number === 1 ? one : many}`;

/** As many decimals as a meter would show: three or four figures. */
export function figure(value) {
  const size = Math.abs(value);
  return value.toFixed(size >= 100 ? 0 : size >= 10 ? 1 : 2);
}

/** Two ends that a reader can tell apart. */
export function span(low, high, unit) {
  const decimals = high - low < 0.1 ? 3 : high - low < 5 ? 2 : high - low < 20 ? 1 : 0;
  return `${low.toFixed(decimals)} – ${high.toFixed(decimals)} ${unit}`.replaceAll(' ', noBreak);
}

/** A reading as it was taken: no decimals lost, none made up. */
export const reading = (value, unit) => `${Number(value.toFixed(3))}${noBreak}${unit}`;

const day = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });
const minute = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', year: 'numeric', hour: '2-digit', minute: '2-digit' });
const hour = new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit' });

export const dayOf = time => day.format(new Date(time));
export const minuteOf = time => minute.format(new Date(time));
export const hourOf = time => hour.format(new Date(time));

/** `urn:fleetlight:device:crew-amber-phone#f12` as a person says it. */
export function factOf(fact) {
  const [source, id] = fact.split('#');
  return `${source.split(':').at(-1)}, ${id}`;
}

/** `fleetlight.cable.pulled.v1` as a person says it. */
export const typeOf = type => capital(plain(type.split('.').slice(1, -1).join(' ')));
