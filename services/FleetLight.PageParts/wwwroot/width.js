// Tells a drawing how wide it may be, and again when that changes.

export function watch(element, component) {
  const tell = () => component.invokeMethodAsync('Widened', element.clientWidth).catch(() => observer.disconnect());
  const observer = new ResizeObserver(tell);
  observer.observe(element);
  return { stop: () => observer.disconnect() };
}
