// Keys that a drawing has a use for do not scroll the page as well; all others do what they always do.

const own = new Set(['ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown', 'Home', 'End', 'Enter', '+', '=', '-', '0']);

export function watch(element) {
  const heard = event => {
    if (event.target === element && own.has(event.key) && !event.ctrlKey && !event.metaKey && !event.altKey) event.preventDefault();
  };
  element.addEventListener('keydown', heard);
  return { stop: () => element.removeEventListener('keydown', heard) };
}
