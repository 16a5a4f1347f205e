// Calls to the service with the key of this tab. The key lives in sessionStorage and nowhere else.

const slot = 'fleetlight-key';

export const key = {
  get: () => sessionStorage.getItem(slot),
  set: text => sessionStorage.setItem(slot, text),
  drop: () => sessionStorage.removeItem(slot),
};

/** The service does not take the key: `status` is 401 (not known) or 403 (may not read). */
export class KeyProblem extends Error {
  constructor(status) {
    super(status === 403
      ? 'This key is in force, but it may not read the status. Ask for one with the scope read-status.'
      : 'The service does not know this key. Look whether it was copied whole; it may also have been revoked.');
    this.status = status;
  }
}

/** The service did not answer, or not with what was asked for. */
export class NoAnswer extends Error {}

/** There is no such thing. */
export class NotFound extends Error {}

export async function call(path, { accept = 'application/json', signal, method = 'GET', body } = {}) {
  const text = key.get() ?? '';
  // What is no header text is no key, and the browser would not send it.
  if (!/^[\x21-\x7e]+$/.test(text)) throw new KeyProblem(401);
  let answer;
  try {
    const headers = { Accept: accept, Authorization: `Bearer ${text}`, ...(body && { 'Content-Type': 'application/json' }) };
    answer = await fetch(path, { method, headers, body: body && JSON.stringify(body), cache: 'no-store', signal });
  } catch (failed) {
    throw new NoAnswer('The service does not answer.', { cause: failed });
  }
  if (answer.status === 401 || answer.status === 403) throw new KeyProblem(answer.status);
  if (answer.status === 404) throw new NotFound((await problemOf(answer)) ?? 'Not found.');
  if (!answer.ok) throw new NoAnswer((await problemOf(answer)) ?? `The service answered ${answer.status}.`);
  return answer;
}

export async function read(path) {
  const answer = await call(path);
  try {
    return await answer.json();
  } catch (failed) {
    throw new NoAnswer('The answer broke off.', { cause: failed });
  }
}

/** Every member of a list, page by page. */
export async function readAll(path, onPage) {
  const items = [];
  let cursor = '';
  do {
    const page = await read(`${path}?limit=1000${cursor && `&cursor=${encodeURIComponent(cursor)}`}`);
    items.push(...page.items);
    onPage?.(items.length);
    cursor = page.next ?? '';
  } while (cursor);
  return items;
}

async function problemOf(answer) {
  try {
    const problem = await answer.json();
    return [problem.detail ?? problem.title, problem.remedy].filter(Boolean).join(' ') || null;
  } catch {
    return null;
  }
}
