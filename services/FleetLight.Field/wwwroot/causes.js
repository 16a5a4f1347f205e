// What would explain a reading is worked out beside the page, in a worker with a .NET of its own: on a large circuit it takes a
// phone many seconds, and typing must not wait for it.

// A question that is not answered after this is given up for a newer one, ms; sooner, starting again would take longer.
const patience = 3000;

let worker = null;
let ready = null;
let asked = null;

function start() {
  const runtime = import.meta.resolve(new URL('_framework/dotnet.js', document.baseURI).href);
  worker = new Worker(new URL('causes-worker.js', document.baseURI), { type: 'module' });
  ready = new Promise((resolve, reject) => {
    worker.onmessage = ({ data }) => {
      if (data.ready) resolve();
      else if (data.failed && !asked) reject(new Error(data.failed));
      else if (asked && data.number === asked.number) { const { done } = asked; asked = null; done(data); }
    };
    worker.onerror = event => { reject(new Error(event.message)); asked?.done({ failed: event.message }); asked = null; };
  });
  worker.postMessage({ runtime });
}

/** Starts it while nobody waits yet. */
export async function prepare() {
  if (!worker) start();
  await ready.catch(() => {});
}

let numbers = 0;

/** The answer to the newest question, as JSON; null where a newer one took its place. */
export async function ask(question) {
  const number = ++numbers;
  if (asked && performance.now() - asked.since > patience) { worker.terminate(); worker = null; asked.done({}); asked = null; }
  if (!worker) start();
  await ready;
  // One waits at most: the newest.
  while (asked && number === numbers) await asked.over;
  if (number !== numbers) return null;
  const since = performance.now();
  let done;
  const over = new Promise(resolve => { done = resolve; });
  asked = { number, since, over, done };
  worker.postMessage({ number, question });
  const answer = await over;
  if (answer.failed) throw new Error(answer.failed);
  return answer.answer ?? null;
}

export function stop() {
  worker?.terminate();
  asked?.done({});
  worker = ready = asked = null;
}
