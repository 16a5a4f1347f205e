// Starts a page that runs in the browser, and shows how far its loading is while the link is slow.

const bar = document.getElementById('boot-bar');
const says = document.getElementById('boot-says');

const watch = setInterval(() => {
  const percent = parseFloat(getComputedStyle(document.documentElement).getPropertyValue('--blazor-load-percentage'));
  if (!bar?.isConnected) {
    clearInterval(watch);
    register();
    return;
  }
  if (Number.isNaN(percent)) return;
  bar.value = percent;
  says.textContent = percent < 100 ? `Loading: ${Math.round(percent)} % is here.` : 'Starting.';
}, 200);

addEventListener('error', stalled);
addEventListener('unhandledrejection', stalled);

/** Only while it loads: afterwards the page tells itself what fails. */
function stalled() {
  if (bar?.isConnected) says.textContent = 'Loading broke off. Look whether there is a signal, then load the page again.';
}

/** Once the page has started: what the worker keeps is fetched for it as well, and must not share a slow link with the start. */
function register() {
  const worker = document.documentElement.dataset.worker;
  if (worker && 'serviceWorker' in navigator) navigator.serviceWorker.register(worker, { updateViaCache: 'none', scope: './' });
}
