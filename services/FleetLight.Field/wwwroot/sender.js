// Sends what was recorded here and brings what others recorded. One for the page and its service worker; a lock of the browser
// sees to it that only one of all windows and workers sends at a time.
//
// Believes nothing but an answer for a fact's own id. Facts go first, then photos, then what is new on the sites is fetched.

'use strict';

(scope => {
  const store = scope.fleetlightStore;

  const mostEvents = 1000;
  const mostBytes = 2 * 1024 * 1024;
  const tryMilliseconds = 30_000;
  const photoMilliseconds = 120_000;
  const longestPauseMilliseconds = 120_000;
  const keyPauseMilliseconds = 60_000;
  const heldMilliseconds = 3_600_000;
  // A service that is restored from an older back-up gets again what it lost.
  const keptMilliseconds = 90 * 24 * 3_600_000;
  const fetchEveryMilliseconds = 60_000;

  // Few facts at first, for a poor link; more while answers come quickly.
  let size = 50;
  let asked = false;

  /** What went wrong, in words for people; 'after' is how long the service asked to be left alone, ms. */
  class Trouble extends Error {
    constructor(message, { status = 0, problem = null, after = null, tooMuch = false } = {}) {
      super(message);
      Object.assign(this, { status, problem, after, tooMuch });
    }
  }

  async function call(identity, path, options = {}, milliseconds = tryMilliseconds) {
    let response;
    try {
      response = await fetch(new URL(path, identity.address), {
        ...options, cache: 'no-store', signal: AbortSignal.timeout(milliseconds),
        headers: { Authorization: `Bearer ${identity.key}`, ...options.headers },
      });
    } catch (failed) {
      if (failed.name === 'TimeoutError') throw new Trouble('The service did not answer in time.', { tooMuch: true });
      throw new Trouble('The service cannot be reached: no signal, or it is down.');
    }
    const after = pauseOf(response.headers.get('Retry-After'));
    let body = null;
    try {
      const text = await response.text();
      body = text === '' ? null : JSON.parse(text);
    } catch {
      if (response.ok) throw new Trouble('The answer was cut short.', { tooMuch: true });
    }
    if (response.ok) return body;
    const says = body?.detail ?? body?.title ?? `The service answered ${response.status}.`;
    throw new Trouble(says, { status: response.status, problem: body?.type ? body : null, after, tooMuch: [400, 408, 413, 415, 422, 504].includes(response.status) });
  }

  function pauseOf(header) {
    if (!header) return null;
    const seconds = Number(header);
    if (Number.isFinite(seconds)) return seconds * 1000;
    const at = Date.parse(header);
    return Number.isNaN(at) ? null : Math.max(0, at - Date.now());
  }

  /** The rest after failures in a row: it doubles up to a limit, drawn from its upper half; never less than was asked for. */
  function pauseAfter(failures, after) {
    const drawn = Math.min(longestPauseMilliseconds, 1000 * 2 ** Math.min(failures - 1, 20)) * (0.5 + Math.random() / 2);
    return after === null ? drawn : Math.max(drawn, after * (1 + Math.random() / 4));
  }

  const answers = (answer, source, batch) => answer?.receipt?.source === source && Array.isArray(answer.receipt.missing)
    && answer.outcomes?.length === batch.length && answer.outcomes.every((outcome, index) => outcome.index === index && outcome.id === batch[index].id);

  async function sendFacts(identity) {
    const source = identity.source;
    await store.release(source, Date.now());
    if (!asked) {
      const receipt = await call(identity, '/v1/devices/self/receipts');
      if (receipt?.source !== source || !Array.isArray(receipt.missing)) throw new Trouble('The receipt that came is not this phone\'s.');
      await store.take(source, receipt);
      asked = true;
    }
    while (true) {
      const batch = await store.next(source, size, mostBytes);
      if (batch.length === 0) return;
      await sendBatch(identity, batch);
    }
  }

  async function sendBatch(identity, batch) {
    const began = performance.now();
    let answer;
    try {
      answer = await call(identity, '/v1/events', {
        method: 'POST',
        headers: { 'Content-Type': 'application/cloudevents-batch+json', 'Device-Clock': new Date().toISOString() },
        body: `[${batch.map(fact => fact.text).join(',')}]`,
      });
    } catch (failed) {
      if (!(failed instanceof Trouble) || !failed.tooMuch) throw failed;
      // Half of what was sent, not of what might have been: a batch may hold less than its size.
      size = Math.max(1, Math.floor(Math.min(size, batch.length) / 2));
      if (batch.length > 1 && [400, 413, 415, 422].includes(failed.status)) return;
      if (batch.length > 1 || ![400, 413, 415, 422].includes(failed.status)) throw failed;
      // Alone it is still not taken: the others shall not wait for it.
      await store.hold(identity.source, batch[0].number, failed.problem, Date.now() + heldMilliseconds);
      return;
    }
    if (!answers(answer, identity.source, batch)) throw new Trouble('The answer that came is not one to what was sent.');
    const now = Date.now();
    await store.settle(identity.source, batch, answer, now);
    await store.note({ lastSentAt: now });
    store.tell({ kind: 'standing' });
    if (batch.length >= size && performance.now() - began < tryMilliseconds / 4) size = Math.min(mostEvents, size + Math.max(1, Math.floor(size / 2)));
  }

  async function sendPhotos(identity) {
    while (true) {
      const photo = await store.nextPhoto(identity.source);
      if (!photo) return;
      try {
        await call(identity, `/v1/attachments/${photo.sha256}`, {
          method: 'PUT', headers: { 'Content-Type': photo.mediaType }, body: photo.blob,
        }, photoMilliseconds);
        await store.settlePhoto(photo.sha256, { state: 'sent', sentAt: Date.now() });
      } catch (failed) {
        // What is wrong with one picture is not in the way of the next.
        if (!(failed instanceof Trouble) || ![400, 413, 415, 422].includes(failed.status)) throw failed;
        await store.settlePhoto(photo.sha256, { state: 'refused', problem: failed.problem });
      }
    }
  }

  async function list(identity, path) {
    const items = [];
    let cursor = null;
    do {
      const page = await call(identity, `${path}${path.includes('?') ? '&' : '?'}limit=1000${cursor ? `&cursor=${encodeURIComponent(cursor)}` : ''}`);
      items.push(...page.items);
      cursor = page.next ?? null;
    } while (cursor);
    return items;
  }

  /** What is new: the sites, how circuits are judged, and the facts of the sites that are assigned or were opened here. */
  async function bring(identity) {
    const assigned = (await call(identity, '/v1/devices/self/sites')).sites;
    const sites = (await list(identity, '/v1/sites')).map(({ id, name, place }) => ({ id, name: name ?? null, place: place ?? null }));
    await store.set('sites', { assigned, sites, fetchedAt: Date.now() });
    const judging = await call(identity, '/v1/judging').catch(failed => { if (failed.status === 403) return null; throw failed; });
    if (judging) await store.set('judging', judging);
    store.tell({ kind: 'sites' });
    const wanted = new Set([...assigned, ...(await store.setting('opened-sites') ?? [])]);
    for (const siteId of wanted) await bringFacts(identity, siteId);
    await store.note({ fetchedAt: Date.now() });
  }

  async function bringFacts(identity, siteId) {
    while (true) {
      const cursor = (await store.cursorOf(siteId))?.cursor;
      const page = await call(identity, `/v1/facts?site=${encodeURIComponent(siteId)}&order=recorded&limit=1000${cursor ? `&cursor=${encodeURIComponent(cursor)}` : ''}`);
      await store.keepFacts(siteId, page, Date.now());
      if (page.items.length > 0 || page.startsOver) store.tell({ kind: 'facts', siteId });
      if (!page.more) break;
    }
    store.tell({ kind: 'fetched', siteId });
  }

  /**
   * One round, unless another window is at it. 'cutShort' is true where a person asked for it or the signal came back: a rest after
   * failures then ends, but never one that the service asked for; and what is new is fetched.
   */
  async function round({ cutShort = false } = {}) {
    const identity = await store.setting('identity');
    if (!identity) return 'no-identity';
    const standing = await store.setting('standing') ?? {};
    const now = Date.now();
    if (standing.notBefore > now && !cutShort) return 'resting';
    if (standing.askedToWaitUntil > now) return 'resting';
    try {
      await sendFacts(identity);
      // Photos are large: what is in their way shall not keep the phone from hearing what is new.
      const photos = await sendPhotos(identity).then(() => null, failed => failed);
      if (cutShort || !(standing.fetchedAt > now - fetchEveryMilliseconds)) await bring(identity);
      await store.forget(identity.source, Date.now() - keptMilliseconds);
      if (photos) throw photos;
      await store.note({ failures: 0, notBefore: 0, askedToWaitUntil: 0, trouble: null, keyNotTaken: false, heardAt: Date.now() });
      return 'done';
    } catch (failed) {
      asked = false;
      const failures = (standing.failures ?? 0) + 1;
      const keyNotTaken = failed instanceof Trouble && (failed.status === 401 || (failed.status === 403 && failed.problem?.type?.endsWith(':scope-missing')));
      const after = failed instanceof Trouble ? failed.after : null;
      const pause = keyNotTaken ? keyPauseMilliseconds : pauseAfter(failures, after);
      await store.note({
        failures, keyNotTaken, trouble: failed.message,
        notBefore: Date.now() + pause, askedToWaitUntil: after === null ? 0 : Date.now() + after,
      });
      if (!(failed instanceof Trouble)) console.error(failed);
      return keyNotTaken ? 'key-not-taken' : 'failed';
    } finally {
      store.tell({ kind: 'standing' });
    }
  }

  let running = null;
  let again = null;

  /** Sends now; where a round is under way here, another follows it, so that what was recorded meanwhile goes too. */
  function send(options = {}) {
    if (running) {
      again ??= running.then(() => { again = null; return send(options); });
      return again;
    }
    const work = () => round(options);
    running = (navigator.locks ? navigator.locks.request('fleetlight-field-sender', { ifAvailable: true }, lock => lock ? work() : 'elsewhere') : work())
      .finally(() => { running = null; });
    return running;
  }

  /** Exchanges a one-time code for this phone's key. The key is kept before anything else is done with it. */
  async function enrol(address, code, device) {
    let response, body = null;
    try {
      response = await fetch(new URL('/v1/enrolments/exchange', address), {
        method: 'POST', cache: 'no-store', signal: AbortSignal.timeout(tryMilliseconds),
        headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ code, device }),
      });
      body = await response.json();
    } catch {
      return { done: false, detail: 'The service cannot be reached.', remedy: 'Look for a signal, then try again with the same code.' };
    }
    if (!response.ok) return { done: false, detail: body?.detail ?? body?.title ?? `The service answered ${response.status}.`, remedy: body?.remedy ?? null };
    if (!body.source) return { done: false, detail: 'The code is not for a phone of a crew.', remedy: 'Ask the office for a device\'s code.' };
    const before = await store.setting('identity');
    await store.set('identity', {
      address: new URL('/', address).href, key: body.key, keyId: body.keyId, source: body.source, organisation: body.organisation ?? null,
      name: body.name ?? null, givenAt: Date.now(),
    });
    asked = false;
    await store.note({ failures: 0, notBefore: 0, askedToWaitUntil: 0, trouble: null, keyNotTaken: false, fetchedAt: 0 });
    if (before && before.organisation !== body.organisation) await store.forgetSites();
    // Facts are never thrown away with it: the browser shall not either.
    await navigator.storage?.persist?.().catch(() => false);
    store.tell({ kind: 'identity' });
    return { done: true, source: body.source, sameAsBefore: !before || before.source === body.source };
  }

  /** The bytes of a photo that another device took; none where there is no signal, or they have not come yet. */
  async function photo(sha256) {
    const identity = await store.setting('identity');
    if (!identity || !navigator.onLine) return null;
    try {
      const response = await fetch(new URL(`/v1/attachments/${sha256}`, identity.address), {
        headers: { Authorization: `Bearer ${identity.key}` }, signal: AbortSignal.timeout(photoMilliseconds),
      });
      return response.ok ? await response.blob() : null;
    } catch {
      return null;
    }
  }

  /** Asks the service for the page itself; none where it does not answer. */
  async function ask(path) {
    const identity = await store.setting('identity');
    if (!identity || !navigator.onLine) return null;
    try {
      return await fetch(new URL(path, identity.address), {
        headers: { Authorization: `Bearer ${identity.key}` }, cache: 'no-store', signal: AbortSignal.timeout(tryMilliseconds),
      });
    } catch {
      return null;
    }
  }

  /** On which site a thing is, by the service: whether it answered, and the site where it knows one. */
  async function siteOf(kind, id) {
    const response = await ask(`/v1/${kind === 'box' ? 'boxe' : kind}s/${encodeURIComponent(id)}`);
    const answered = response !== null && (response.ok || response.status === 404);
    if (!response?.ok) return { answered, siteId: null };
    const view = await response.json().catch(() => null);
    return { answered: view !== null, siteId: (kind === 'site' ? view?.id : view?.siteId) ?? null };
  }

  /** Labels as PDF, saved as a file; answers what is in the way, in words, and nothing where they were saved. */
  async function saveLabels(siteId, query) {
    const response = await ask(`/v1/sites/${encodeURIComponent(siteId)}/labels?format=pdf&${query}`);
    if (response === null) return 'The service does not answer. Print them here, or save them as SVG.';
    if (!response.ok) {
      const problem = await response.json().catch(() => null);
      return `${problem?.detail ?? problem?.title ?? `The service answered ${response.status}.`} ${problem?.remedy ?? ''}`.trim();
    }
    const blob = await response.blob().catch(() => null);
    if (blob === null) return 'The labels did not come whole. Try again.';
    const link = document.createElement('a');
    link.href = URL.createObjectURL(blob);
    link.download = `labels-${siteId}.pdf`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
    return null;
  }

  scope.fleetlightSender = { send, enrol, photo, siteOf, saveLabels };
})(self);
