// What the page needs of the browser besides its store: when to send, the camera, the position, and newer versions of itself.

'use strict';

(scope => {
  const store = scope.fleetlightStore;
  const sender = scope.fleetlightSender;
  const sendEveryMilliseconds = 15_000;
  const lookForNewerEveryMilliseconds = 30 * 60_000;

  // A one-time code leaves the address at once, before anything else can see it there.
  let codeGiven = null;
  if (/\/enrol\/?$/.test(location.pathname) && location.hash.length > 1) {
    codeGiven = decodeURIComponent(location.hash.slice(1)).trim();
    history.replaceState(null, '', location.pathname);
  }

  function takeCode() {
    const code = codeGiven;
    codeGiven = null;
    return code;
  }

  // ------------------------------------------------------------------------------------------------ sending

  let told = null;
  let registration = null;

  function start(dotnet) {
    told = dotnet;
    store.listen(message => told.invokeMethodAsync('Told', message.kind, message.siteId ?? null));
    addEventListener('online', () => { tellSignal(); sender.send({ cutShort: true }); registration?.update().catch(() => { }); });
    addEventListener('offline', tellSignal);
    document.addEventListener('visibilitychange', () => { if (!document.hidden) sender.send(); });
    setInterval(() => { if (!document.hidden) sender.send(); }, sendEveryMilliseconds);
    sender.send({ cutShort: true });
    watchForNewer();
    return navigator.onLine;
  }

  const tellSignal = () => told?.invokeMethodAsync('Told', navigator.onLine ? 'online' : 'offline', null);

  /** After something was recorded: now where there is a signal, by the browser as soon as there is one else. */
  async function sendSoon() {
    sender.send();
    try {
      await (await navigator.serviceWorker?.ready)?.sync?.register('send');
    } catch {
      // The browser has no such thing or does not allow it; the page sends while it is open.
    }
  }

  // ------------------------------------------------------------------------------------------------ newer versions

  let takesOver = false;

  async function watchForNewer() {
    if (!('serviceWorker' in navigator)) return;
    registration = await navigator.serviceWorker.getRegistration() ?? await navigator.serviceWorker.ready;
    const look = worker => {
      if (!worker) return;
      const tell = () => { if (worker.state === 'installed' && navigator.serviceWorker.controller) told.invokeMethodAsync('Told', 'newer', null); };
      worker.addEventListener('statechange', tell);
      tell();
    };
    look(registration.waiting);
    look(registration.installing);
    registration.addEventListener('updatefound', () => look(registration.installing));
    navigator.serviceWorker.addEventListener('controllerchange', () => { if (takesOver) location.reload(); });
    setInterval(() => registration.update().catch(() => { }), lookForNewerEveryMilliseconds);
  }

  /** Takes the newer version over, in this window. What was recorded is in the store, which both versions read. */
  function takeOver() {
    takesOver = true;
    if (registration?.waiting) registration.waiting.postMessage({ kind: 'take-over' });
    else location.reload();
  }

  // ------------------------------------------------------------------------------------------------ photos

  const longestSide = 1600;
  const mostPhotoBytes = 1_500_000;
  const prepared = new Map();

  /** Makes the chosen picture smaller, as JPEG without what the camera wrote into it, and names it by its digest. */
  async function preparePhoto(input) {
    const file = input.files?.[0];
    input.value = '';
    if (!file) return null;
    let picture;
    try {
      picture = await createImageBitmap(file, { imageOrientation: 'from-image' });
    } catch {
      return { problem: 'This file is no picture that the browser can read.' };
    }
    const scale = Math.min(1, longestSide / Math.max(picture.width, picture.height));
    const canvas = document.createElement('canvas');
    canvas.width = Math.max(1, Math.round(picture.width * scale));
    canvas.height = Math.max(1, Math.round(picture.height * scale));
    canvas.getContext('2d').drawImage(picture, 0, 0, canvas.width, canvas.height);
    picture.close();
    let blob = null;
    for (const quality of [0.85, 0.7, 0.5, 0.3]) {
      blob = await new Promise(resolve => canvas.toBlob(resolve, 'image/jpeg', quality));
      if (blob.size <= mostPhotoBytes) break;
    }
    const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', await blob.arrayBuffer()));
    const sha256 = [...digest].map(byte => byte.toString(16).padStart(2, '0')).join('');
    prepared.set(sha256, blob);
    return { sha256, mediaType: 'image/jpeg', sizeBytes: blob.size, address: URL.createObjectURL(blob) };
  }

  function dropPhoto(sha256, address) {
    prepared.delete(sha256);
    if (address) URL.revokeObjectURL(address);
  }

  /** Records facts together with the photos that they name, and sees to it that they are sent. */
  async function record(what) {
    const photos = what.photos.map(sha256 => ({ sha256, mediaType: 'image/jpeg', sizeBytes: prepared.get(sha256).size, blob: prepared.get(sha256) }));
    const numbers = await store.record({ ...what, photos });
    for (const sha256 of what.photos) prepared.delete(sha256);
    sendSoon();
    return numbers;
  }

  const shownPhotos = new Map();

  /** An address for a photo: from what is kept here, or else from the service; none where neither has it now. */
  async function photoAddress(sha256) {
    if (!shownPhotos.has(sha256)) {
      const blob = await store.photo(sha256) ?? await sender.photo(sha256);
      if (!blob) return null;
      shownPhotos.set(sha256, URL.createObjectURL(blob));
    }
    return shownPhotos.get(sha256);
  }

  // ------------------------------------------------------------------------------------------------ position

  function position() {
    return new Promise(resolve => {
      if (!navigator.geolocation) { resolve({ problem: 'This browser tells no position.' }); return; }
      navigator.geolocation.getCurrentPosition(
        found => resolve({ longitude: found.coords.longitude, latitude: found.coords.latitude, accuracyMetres: found.coords.accuracy }),
        failed => resolve({ problem: failed.code === 1 ? 'The browser does not allow it: see its settings for this page.' : 'No position was found here.' }),
        { enableHighAccuracy: true, timeout: 20_000, maximumAge: 10_000 });
    });
  }

  // ------------------------------------------------------------------------------------------------ scanning

  let scan = null;

  /** Shows the camera and tells what it reads, once. Where the browser reads no codes itself, frames are handed to the page. */
  async function startScan(video, dotnet) {
    stopScan();
    let stream;
    try {
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment', width: { ideal: 1280 } } });
    } catch {
      return 'The camera cannot be used here. Type the code instead.';
    }
    const mine = { stream, on: true };
    scan = mine;
    video.srcObject = stream;
    await video.play();
    let detector = null;
    if ('BarcodeDetector' in scope && (await BarcodeDetector.getSupportedFormats()).includes('qr_code')) detector = new BarcodeDetector({ formats: ['qr_code'] });
    const canvas = document.createElement('canvas');
    const look = async () => {
      if (!mine.on) return;
      const text = detector ? (await detector.detect(video).catch(() => []))[0]?.rawValue ?? null : await readFrame(video, canvas, dotnet);
      if (!mine.on) return;
      if (text) { stopScan(); await dotnet.invokeMethodAsync('Scanned', text); return; }
      setTimeout(look, 200);
    };
    look();
    return null;
  }

  async function readFrame(video, canvas, dotnet) {
    if (!video.videoWidth) return null;
    const scale = Math.min(1, 640 / video.videoWidth);
    canvas.width = Math.round(video.videoWidth * scale);
    canvas.height = Math.round(video.videoHeight * scale);
    const context = canvas.getContext('2d', { willReadFrequently: true });
    context.drawImage(video, 0, 0, canvas.width, canvas.height);
    const colours = context.getImageData(0, 0, canvas.width, canvas.height).data;
    const greys = new Uint8Array(canvas.width * canvas.height);
    // Rec. 601 luma in whole numbers.
    for (let at = 0; at < greys.length; at++) greys[at] = (colours[at * 4] * 77 + colours[at * 4 + 1] * 150 + colours[at * 4 + 2] * 29) >> 8;
    return dotnet.invokeMethodAsync('ReadFrame', greys, canvas.width, canvas.height);
  }

  function stopScan() {
    if (!scan) return;
    scan.on = false;
    for (const track of scan.stream.getTracks()) track.stop();
    scan = null;
  }

  /** Whether the browser will not clear what is kept here by itself. */
  const keeps = async () => await navigator.storage?.persisted?.() ?? false;

  /** Shows the page from its top: its middle is what scrolls. */
  function toTop() {
    document.querySelector('main.page')?.scrollTo(0, 0);
  }

  /** Puts the focus on the input that asks for a member, or for what is around it, where it is folded away too. */
  function goToField(path) {
    // tapes[0].distanceMetres, then tapes[0], then tapes.
    for (let name = path; name; name = name.slice(0, Math.max(0, name.search(/[.[][^.[]*$/)))) {
      const field = document.querySelector(`[data-field="${CSS.escape(name)}"]`);
      if (!field) continue;
      for (let around = field.closest('details'); around; around = around.parentElement.closest('details')) around.open = true;
      field.querySelector('input, select, textarea, button')?.focus();
      field.scrollIntoView({ block: 'center' });
      return;
    }
  }

  scope.fleetlightPage = { takeCode, start, sendSoon, takeOver, preparePhoto, dropPhoto, record, photoAddress, position, startScan, stopScan, keeps, goToField, toTop };
})(self);
