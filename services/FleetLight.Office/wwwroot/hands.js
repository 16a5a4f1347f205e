// What a page does with the browser beyond showing itself.

/** Saves bytes under a name, the way a link to a file does. */
export function give(name, bytes, type) {
  const address = URL.createObjectURL(new Blob([bytes], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10000);
}

/** Tells a listener of the page each time the browser loses its network. */
export function tellOffline(listener) {
  addEventListener('offline', () => listener.invokeMethodAsync('Break'));
}

/** Puts the keyboard where something stands, and brings it into sight. */
export function focus(id) {
  const found = document.getElementById(id);
  found?.focus({ preventScroll: true });
  found?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
}
