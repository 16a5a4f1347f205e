// Follows the change feed. EventSource cannot send the key, so the stream is read by hand; where a stream cannot be had,
// the same feed is asked page by page.

import { call, KeyProblem, read } from './api.js';

const silentFor = 45_000; // The service says every 15 s that it is still there.
const pollEvery = 5_000;
const longestWait = 30_000;

/**
 * @param {(kinds: Set<string>, all: boolean) => void} changed what changed; `all` where something may have been missed
 * @param {(state: 'following' | 'lost', wait?: number) => void} told how it goes
 * @param {(problem: KeyProblem) => void} refused the key is no longer taken
 */
export function follow(changed, told, refused) {
  const stop = new AbortController();
  let cursor = 'now';
  let wake = () => {};
  const sleep = time => new Promise(done => {
    const timer = setTimeout(done, time);
    wake = () => { clearTimeout(timer); done(); };
  });

  async function stream() {
    const cut = new AbortController();
    const end = () => cut.abort();
    stop.signal.addEventListener('abort', end);
    let guard = setTimeout(end, silentFor);
    try {
      const answer = await call(`/v1/changes?after=${encodeURIComponent(cursor)}`, { accept: 'text/event-stream', signal: cut.signal });
      if (!answer.body || !(answer.headers.get('Content-Type') ?? '').startsWith('text/event-stream')) {
        end();
        return false;
      }
      const reader = answer.body.pipeThrough(new TextDecoderStream()).getReader();
      let rest = '';
      let first = true;
      for (;;) {
        const { value, done } = await reader.read();
        if (done) return true;
        clearTimeout(guard);
        guard = setTimeout(end, silentFor);
        told('following');
        const blocks = (rest + value).replaceAll('\r\n', '\n').split('\n\n');
        rest = blocks.pop();
        const kinds = new Set(blocks.map(take).filter(Boolean));
        // From 'now' on, something may have happened between the first look and the first word of the stream.
        if (kinds.size > 0 || first) changed(kinds, first);
        first = false;
      }
    } finally {
      clearTimeout(guard);
      stop.signal.removeEventListener('abort', end);
    }
  }

  function take(block) {
    let name = '';
    let id = '';
    let data = '';
    for (const line of block.split('\n')) {
      if (line.startsWith('event:')) name = line.slice(6).trim();
      else if (line.startsWith('id:')) id = line.slice(3).trim();
      else if (line.startsWith('data:')) data += line.slice(5).trim();
    }
    if (id) cursor = id;
    return name === 'change' ? JSON.parse(data).kind : null;
  }

  async function poll() {
    const page = await read(`/v1/changes?after=${encodeURIComponent(cursor)}&limit=1000`);
    told('following');
    cursor = page.next ?? cursor;
    const blind = cursor === 'now'; // No cursor yet: it cannot be told what happened since.
    const kinds = new Set(page.items.map(change => change.kind));
    if (kinds.size > 0 || blind) changed(kinds, blind);
    await sleep(blind ? pollEvery * 4 : pollEvery);
  }

  (async () => {
    let streams = true;
    let wait = 0;
    let lost = false;
    const fine = told;
    told = (state, time) => {
      if (state === 'following') wait = 0;
      fine(state, time);
    };
    while (!stop.signal.aborted) {
      try {
        if (lost) {
          // A stream may say its first word late: whether the service is back is asked apart.
          await read('/v1/changes?after=now&limit=1');
          lost = false;
          told('following');
          changed(new Set(), true);
        }
        if (streams) streams = await stream();
        else await poll();
        if (streams) await sleep(500);
      } catch (failed) {
        if (stop.signal.aborted) return;
        if (failed instanceof KeyProblem) {
          refused(failed);
          return;
        }
        wait = Math.min(longestWait, Math.max(2_000, wait * 2));
        told('lost', wait);
        await sleep(wait);
        lost = true;
      }
    }
  })();

  return { stop: () => stop.abort(), wake: () => wake() };
}
