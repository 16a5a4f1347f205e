// What this phone keeps: who it is, every fact that was recorded here, photos, what is known of sites, and what was typed last.
// Shared by the page and by its service worker, which takes no modules everywhere: so it is a plain script that hangs itself
// onto the global object.
//
// A write is done when its transaction is complete, with the durability that waits for the disk. Only then may the page say "kept".

'use strict';

(scope => {
  const databaseName = 'fleetlight-field';

  // Each step brings a database from the version before. Steps are only ever added; none may drop 'outbox' or 'photos'.
  const steps = [
    db => {
      // By name: identity, sites, judging, standing, receipts and last numbers of each source.
      db.createObjectStore('settings', { keyPath: 'name' });
      // One row for each fact that was recorded here, whatever became of it.
      const outbox = db.createObjectStore('outbox', { keyPath: ['source', 'number'] });
      outbox.createIndex('state', ['source', 'state', 'number']);
      outbox.createIndex('site', 'siteId');
      // Only rows that somebody still has to see to have the member 'pending', so this index is small.
      outbox.createIndex('pending', 'pending');
      // Bytes of photos, by their digest; sent once the facts that name them are in hand.
      db.createObjectStore('photos', { keyPath: 'sha256' }).createIndex('state', 'state');
      // Facts that came from the service, by the site whose list they stood in, in the order in which they came.
      const facts = db.createObjectStore('facts', { keyPath: ['siteId', 'fact'] });
      facts.createIndex('order', ['siteId', 'order']);
      // How far the list of a site was read.
      db.createObjectStore('cursors', { keyPath: 'siteId' });
      // What was chosen last in each form.
      db.createObjectStore('drafts', { keyPath: 'name' });
    },
  ];

  let opening = null;

  function open() {
    opening ??= new Promise((resolve, reject) => {
      const request = indexedDB.open(databaseName, steps.length);
      request.onupgradeneeded = event => {
        for (let step = event.oldVersion; step < steps.length; step++) steps[step](request.result, request.transaction);
      };
      request.onblocked = () => reject(new Error('Another window of this page is of an older version. Close it.'));
      request.onerror = () => reject(request.error);
      request.onsuccess = () => {
        const db = request.result;
        // A newer version of the page opens in another window: let it upgrade, open anew at the next call.
        db.onversionchange = () => { db.close(); opening = null; };
        db.onclose = () => { opening = null; };
        resolve(db);
      };
    });
    opening.catch(() => { opening = null; });
    return opening;
  }

  const wait = request => new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

  /** Runs work in one transaction; what it answers is given once the transaction is complete. */
  async function within(stores, mode, work) {
    const db = await open();
    const transaction = db.transaction(stores, mode, { durability: 'strict' });
    const complete = new Promise((resolve, reject) => {
      transaction.oncomplete = resolve;
      transaction.onabort = () => reject(transaction.error ?? new Error('The write was given up.'));
    });
    let answer;
    try {
      answer = await work(name => transaction.objectStore(name));
    } catch (failed) {
      try { transaction.abort(); } catch { /* It has ended by itself. */ }
      complete.catch(() => { });
      throw failed;
    }
    await complete;
    return answer;
  }

  const write = (stores, work) => within(stores, 'readwrite', work);
  const read = (stores, work) => within(stores, 'readonly', work);

  async function setting(name) {
    return read(['settings'], async store => (await wait(store('settings').get(name)))?.value ?? null);
  }

  async function set(name, value) {
    await write(['settings'], store => wait(store('settings').put({ name, value })));
  }

  async function draft(name) {
    return read(['drafts'], async store => (await wait(store('drafts').get(name)))?.value ?? null);
  }

  async function keepDraft(name, value) {
    await write(['drafts'], store => wait(value === null ? store('drafts').delete(name) : store('drafts').put({ name, value })));
  }

  // ------------------------------------------------------------------------------------------------ facts recorded here

  const numberOf = source => `last-number:${source}`;

  /**
   * Records facts: all or none, each with the next running number of the device, in one transaction.
   * @param {{source: string, facts: {id: string, type: string, siteId: string, time: string, data: string, mends?: number}[], photos: object[]}} what
   *   'data' is JSON text, so that what is sent is what was written, letter for letter.
   * @returns the numbers that were given.
   */
  async function record(what) {
    const { source, facts, photos = [] } = what;
    const numbers = await write(['settings', 'outbox', 'photos'], async store => {
      const counter = await wait(store('settings').get(numberOf(source)));
      let number = counter?.value ?? 0;
      const given = [];
      for (const fact of facts) {
        number++;
        const text = `{"specversion":"1.0","id":${JSON.stringify(fact.id)},"source":${JSON.stringify(source)},"type":${JSON.stringify(fact.type)},`
          + `"time":${JSON.stringify(fact.time)},"runningnumber":${number},"data":${fact.data}}`;
        await wait(store('outbox').add({
          source, number, id: fact.id, type: fact.type, siteId: fact.siteId, time: fact.time, text, state: 'waiting', pending: 1,
          mends: fact.mends ?? null,
        }));
        if (fact.mends) {
          const old = await wait(store('outbox').get([source, fact.mends]));
          if (old) await wait(store('outbox').put({ ...old, mendedBy: number, pending: undefined }));
        }
        given.push(number);
      }
      for (const photo of photos) {
        // The same picture twice: what was sent need not be sent again.
        if (!await wait(store('photos').get(photo.sha256))) await wait(store('photos').put({ ...photo, source, state: 'waiting' }));
      }
      await wait(store('settings').put({ name: numberOf(source), value: number }));
      return given;
    });
    tell({ kind: 'outbox' });
    return numbers;
  }

  /** Facts recorded here on a site that count: those that were refused do not. */
  async function ownOf(siteId) {
    return read(['outbox'], async store =>
      (await wait(store('outbox').index('site').getAll(siteId))).filter(each => each.state !== 'refused').map(shown));
  }

  /** Facts that wait or were refused and are not mended yet, of all sites and sources, oldest first. */
  async function open_() {
    return read(['outbox'], async store => (await wait(store('outbox').index('pending').getAll())).map(shown));
  }

  const shown = row => ({
    source: row.source, number: row.number, id: row.id, type: row.type, siteId: row.siteId, time: row.time, text: row.text,
    state: row.state, problem: row.problem ?? null, mends: row.mends ?? null,
  });

  /** A refused fact was seen to elsewhere: it is kept and no longer listed. */
  async function dismiss(source, number) {
    await write(['outbox'], async store => {
      const row = await wait(store('outbox').get([source, number]));
      if (row?.state === 'refused') await wait(store('outbox').put({ ...row, dismissed: true, pending: undefined }));
    });
    tell({ kind: 'outbox' });
  }

  /** How many wait, were refused, and photos that wait; and what the sender found last. */
  async function summary() {
    return read(['settings', 'outbox', 'photos'], async store => {
      const identity = (await wait(store('settings').get('identity')))?.value ?? null;
      const standing = (await wait(store('settings').get('standing')))?.value ?? {};
      let waiting = 0, refused = 0, elsewhere = 0;
      for (const row of await wait(store('outbox').index('pending').getAll())) {
        if (row.state === 'refused') refused++;
        else if (row.source === identity?.source) waiting++;
        else elsewhere++;
      }
      const photos = await wait(store('photos').index('state').count('waiting'));
      return { waiting, refused, elsewhere, photos, lastSentAt: standing.lastSentAt ?? null, trouble: standing.trouble ?? null, keyNotTaken: standing.keyNotTaken ?? false };
    });
  }

  async function note(changes) {
    await write(['settings'], async store => {
      const standing = (await wait(store('settings').get('standing')))?.value ?? {};
      await wait(store('settings').put({ name: 'standing', value: { ...standing, ...changes } }));
    });
  }

  // ------------------------------------------------------------------------------------------------ what the sender needs

  /** The next facts to send, lowest numbers first, within a number of events and of bytes. The first one always goes in. */
  async function next(source, mostEvents, mostBytes) {
    return read(['outbox'], store => new Promise((resolve, reject) => {
      const batch = [];
      let bytes = 2;
      const range = IDBKeyRange.bound([source, 'waiting', 0], [source, 'waiting', Infinity]);
      const request = store('outbox').index('state').openCursor(range);
      request.onerror = () => reject(request.error);
      request.onsuccess = () => {
        const cursor = request.result;
        if (!cursor) { resolve(batch); return; }
        // Twice the letters is never less than the bytes of text in Latin letters; a batch that is cut small costs little.
        const size = cursor.value.text.length * 2 + 1;
        if (batch.length > 0 && (batch.length >= mostEvents || bytes + size > mostBytes)) { resolve(batch); return; }
        bytes += size;
        batch.push(cursor.value);
        cursor.continue();
      };
    }));
  }

  /** Writes down what became of a batch, and the receipt that came with it. */
  async function settle(source, batch, answer, now) {
    await write(['settings', 'outbox'], async store => {
      for (let index = 0; index < batch.length; index++) {
        const outcome = answer.outcomes[index];
        const refused = outcome.outcome === 'refused';
        const row = await wait(store('outbox').get([source, batch[index].number]));
        await wait(store('outbox').put({
          ...row, state: refused ? 'refused' : 'sent', pending: refused && !row.mendedBy ? 1 : undefined, answeredAt: now, heldUntil: null,
          problem: refused ? outcome.problem ?? null : null, refusedId: outcome.refusedId ?? null,
        }));
      }
      await takeIn(store, source, answer.receipt);
    });
    tell({ kind: 'outbox' });
  }

  const take = (source, receipt) => write(['settings', 'outbox'], store => takeIn(store, source, receipt));

  // The service's word on what it has. What it lacks and was thought in hand waits again; where it knows numbers that were never
  // given here, an older copy of this store was put back or the browser dropped it, and numbers go on above them.
  async function takeIn(store, source, receipt) {
    const last = (await wait(store('settings').get(numberOf(source))))?.value ?? 0;
    const lacks = receipt.missing.map(range => [range.from, Math.min(range.through, last)]);
    if (receipt.highest < last) lacks.push([receipt.highest + 1, last]);
    for (const [from, through] of lacks.filter(range => range[0] <= range[1])) {
      for (const row of await wait(store('outbox').getAll(IDBKeyRange.bound([source, from], [source, through])))) {
        if (row.state === 'sent' || row.state === 'refused')
          await wait(store('outbox').put({ ...row, state: 'waiting', pending: 1, problem: null, refusedId: null, answeredAt: null }));
      }
    }
    if (receipt.highest > last) await wait(store('settings').put({ name: numberOf(source), value: receipt.highest }));
    await wait(store('settings').put({ name: `receipt:${source}`, value: receipt }));
  }

  /** Holds a fact back that the service cannot read even alone, so that the others need not wait for it. */
  async function hold(source, number, problem, until) {
    await write(['outbox'], async store => {
      const row = await wait(store('outbox').get([source, number]));
      await wait(store('outbox').put({ ...row, state: 'held', problem, heldUntil: until }));
    });
    tell({ kind: 'outbox' });
  }

  /** Lets facts go that were held long enough. */
  async function release(source, now) {
    await write(['outbox'], async store => {
      const range = IDBKeyRange.bound([source, 'held', 0], [source, 'held', Infinity]);
      for (const row of await wait(store('outbox').index('state').getAll(range)))
        if (row.heldUntil <= now) await wait(store('outbox').put({ ...row, state: 'waiting', problem: null, heldUntil: null }));
    });
  }

  /** Lets go of facts that the service has had for long: answered before that time, at or below the number it is complete through. */
  async function forget(source, before) {
    await write(['settings', 'outbox', 'photos'], async store => {
      const receipt = (await wait(store('settings').get(`receipt:${source}`)))?.value;
      if (!receipt || receipt.completeThrough < 1) return;
      for (const row of await wait(store('outbox').getAll(IDBKeyRange.bound([source, 1], [source, receipt.completeThrough]))))
        if (row.state === 'sent' && row.answeredAt < before) await wait(store('outbox').delete([source, row.number]));
      for (const row of await wait(store('photos').index('state').getAll('sent')))
        if (row.sentAt < before) await wait(store('photos').delete(row.sha256));
    });
  }

  async function nextPhoto(source) {
    return read(['photos'], async store => {
      const rows = await wait(store('photos').index('state').getAll('waiting'));
      return rows.find(row => row.source === source) ?? null;
    });
  }

  async function settlePhoto(sha256, changes) {
    await write(['photos'], async store => {
      const row = await wait(store('photos').get(sha256));
      if (row) await wait(store('photos').put({ ...row, ...changes }));
    });
    tell({ kind: 'outbox' });
  }

  /** The bytes of a photo, where they are still here. */
  async function photo(sha256) {
    return read(['photos'], async store => (await wait(store('photos').get(sha256)))?.blob ?? null);
  }

  // ------------------------------------------------------------------------------------------------ what came from the service

  /** Keeps a page of a site's facts and the cursor behind it together, so that nothing is passed over whenever it ends. */
  async function keepFacts(siteId, page, now) {
    await write(['facts', 'cursors'], async store => {
      const kept = await wait(store('cursors').get(siteId));
      let order = page.startsOver ? 0 : kept?.order ?? 0;
      // The list was built again: all of it comes once more, and what is no longer in it shall not stay.
      if (page.startsOver) await wait(store('facts').delete(IDBKeyRange.bound([siteId], [siteId, []])));
      for (const fact of page.items) {
        order++;
        await wait(store('facts').put({ siteId, fact: fact.fact, order, text: JSON.stringify(fact) }));
      }
      const edition = (kept?.edition ?? 0) + (page.startsOver ? 1 : 0);
      await wait(store('cursors').put({ siteId, cursor: page.next ?? kept?.cursor ?? null, order, edition, fetchedAt: now }));
    });
  }

  /** Facts of a site after a place in the order in which they came, as one JSON text; and where that ends. */
  async function factsAfter(siteId, after) {
    return read(['facts', 'cursors'], async store => {
      const kept = await wait(store('cursors').get(siteId));
      const rows = await wait(store('facts').index('order').getAll(IDBKeyRange.bound([siteId, after], [siteId, Infinity], true)));
      return { json: `[${rows.map(row => row.text).join(',')}]`, order: kept?.order ?? 0, edition: kept?.edition ?? 0, fetchedAt: kept?.fetchedAt ?? null };
    });
  }

  /** Another organisation's sites shall not stay; what was recorded here does. */
  async function forgetSites() {
    await write(['settings', 'facts', 'cursors'], async store => {
      await wait(store('facts').clear());
      await wait(store('cursors').clear());
      for (const name of ['sites', 'judging', 'opened-sites', 'site']) await wait(store('settings').delete(name));
    });
  }

  const cursorOf = siteId => read(['cursors'], store => wait(store('cursors').get(siteId)));

  // ------------------------------------------------------------------------------------------------ telling other windows

  const channel = 'BroadcastChannel' in scope ? new BroadcastChannel('fleetlight-field') : null;
  const listeners = new Set();

  function tell(message) {
    channel?.postMessage(message);
    for (const listener of listeners) listener(message);
  }

  function listen(listener) { listeners.add(listener); }

  channel?.addEventListener('message', event => { for (const listener of listeners) listener(event.data); });

  scope.fleetlightStore = {
    setting, set, draft, keepDraft, record, ownOf, open: open_, dismiss, summary, note, next, settle, take, hold, release, forget,
    nextPhoto, settlePhoto, photo, keepFacts, factsAfter, forgetSites, cursorOf, tell, listen,
  };
})(self);
