// Fingers, mouse and wheel on a plan. While they move the picture is only shifted and stretched; when they rest the component is
// told once and draws anew, with labels and signs in their right size.

export function watch(element, component) {
  const picture = () => element.querySelector('svg');
  const fingers = new Map();
  let scale = 1, shiftX = 0, shiftY = 0, rest = 0, moved = false;

  const show = () => { picture().style.transform = `translate(${shiftX}px, ${shiftY}px) scale(${scale})`; };

  const settle = () => {
    clearTimeout(rest);
    if (scale === 1 && shiftX === 0 && shiftY === 0) return;
    const told = [scale, shiftX, shiftY];
    [scale, shiftX, shiftY] = [1, 0, 0];
    component.invokeMethodAsync('Gestured', ...told).then(() => { if (scale === 1 && shiftX === 0 && shiftY === 0) picture().style.transform = ''; }).catch(() => {});
  };

  const soon = () => { clearTimeout(rest); rest = setTimeout(settle, 160); };

  const zoom = (factor, x, y) => {
    shiftX = x - (x - shiftX) * factor;
    shiftY = y - (y - shiftY) * factor;
    scale *= factor;
    show();
  };

  const at = event => { const box = element.getBoundingClientRect(); return [event.clientX - box.left, event.clientY - box.top]; };

  const down = event => { fingers.set(event.pointerId, at(event)); moved = false; };

  const move = event => {
    const before = fingers.get(event.pointerId);
    if (!before) return;
    const now = at(event);
    const other = [...fingers].find(([id]) => id !== event.pointerId)?.[1];
    if (!moved && Math.hypot(now[0] - before[0], now[1] - before[1]) < 5) return;
    if (!moved) { moved = true; for (const id of fingers.keys()) element.setPointerCapture(id); }
    fingers.set(event.pointerId, now);
    if (other) {
      const was = Math.hypot(before[0] - other[0], before[1] - other[1]);
      const is = Math.hypot(now[0] - other[0], now[1] - other[1]);
      if (was > 0 && is > 0) zoom(is / was, other[0], other[1]);
    } else {
      shiftX += now[0] - before[0];
      shiftY += now[1] - before[1];
      show();
    }
  };

  const up = event => { if (fingers.delete(event.pointerId) && fingers.size === 0) settle(); };

  // A drag must not choose what it began or ended on.
  const click = event => { if (moved) { event.stopPropagation(); event.preventDefault(); moved = false; } };

  // Without the key, the wheel scrolls the page as everywhere else; a touchpad's pinch comes with the key set.
  const wheel = event => {
    if (!event.ctrlKey && !element.contains(document.activeElement)) return;
    event.preventDefault();
    zoom(Math.exp(-event.deltaY / 400), ...at(event));
    soon();
  };

  const pairs = [['pointerdown', down], ['pointermove', move], ['pointerup', up], ['pointercancel', up]];
  for (const [name, heard] of pairs) element.addEventListener(name, heard);
  element.addEventListener('click', click, true);
  element.addEventListener('wheel', wheel, { passive: false });
  return {
    stop: () => {
      for (const [name, heard] of pairs) element.removeEventListener(name, heard);
      element.removeEventListener('click', click, true);
      element.removeEventListener('wheel', wheel);
      clearTimeout(rest);
    },
  };
}
