// Mouse, touch and keys on the picture.

// hands lets a canvas be turned, moved and brought nearer. A finger alone turns the machine from side to side, so that
// the page still scrolls; two tilt, move and bring nearer.
function hands(canvas, look, on) {
  const down = new Map();
  let moved = 0;
  const spread = () => {
    const [a, b] = [...down.values()];
    return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2, apart: Math.hypot(a.x - b.x, a.y - b.y) };
  };
  canvas.addEventListener('pointerdown', (e) => {
    if (e.button > 2) return;
    canvas.setPointerCapture(e.pointerId);
    down.set(e.pointerId, { x: e.offsetX, y: e.offsetY });
    if (down.size === 1) moved = 0;
  });
  canvas.addEventListener('pointermove', (e) => {
    const was = down.get(e.pointerId);
    if (!was) return;
    const before = down.size === 2 ? spread() : null;
    const dx = e.offsetX - was.x, dy = e.offsetY - was.y;
    down.set(e.pointerId, { x: e.offsetX, y: e.offsetY });
    moved += Math.abs(dx) + Math.abs(dy);
    if (moved < 4) return;
    if (before) {
      const after = spread();
      look.zoom *= after.apart / Math.max(1, before.apart);
      look.turn -= (after.x - before.x) * 0.4;
      look.tilt += (after.y - before.y) * 0.4;
    } else if (e.shiftKey || e.buttons & 6) {
      look.x += dx / on.height();
      look.y -= dy / on.height();
    } else {
      look.turn -= dx * 0.4;
      look.tilt += dy * 0.4;
    }
    on.draw();
  });
  const up = (e) => {
    const alone = down.size === 1;
    if (!down.delete(e.pointerId)) return;
    if (e.type === 'pointerup' && alone && moved < 4 && e.button === 0) on.pickAt(e.offsetX, e.offsetY);
  };
  canvas.addEventListener('pointerup', up);
  canvas.addEventListener('pointercancel', up);
  canvas.addEventListener('contextmenu', (e) => e.preventDefault());
  canvas.addEventListener('wheel', (e) => {
    if (document.activeElement !== canvas && !e.ctrlKey) return; // the page scrolls
    e.preventDefault();
    look.zoom *= Math.exp(-e.deltaY * (e.deltaMode ? 0.03 : 0.001));
    on.draw();
  }, { passive: false });
  const keys = {
    ArrowLeft: (s) => { if (s) look.x -= 0.05; else look.turn += 5; },
    ArrowRight: (s) => { if (s) look.x += 0.05; else look.turn -= 5; },
    ArrowUp: (s) => { if (s) look.y += 0.05; else look.tilt += 5; },
    ArrowDown: (s) => { if (s) look.y -= 0.05; else look.tilt -= 5; },
    '+': () => { look.zoom *= 1.15; }, '=': () => { look.zoom *= 1.15; },
    '-': () => { look.zoom /= 1.15; }, 0: () => look.reset(),
    n: () => on.next(1), p: () => on.next(-1), t: () => on.through(), Escape: () => on.letGo(),
  };
  canvas.addEventListener('keydown', (e) => {
    const does = keys[e.key.length === 1 ? e.key.toLowerCase() : e.key];
    if (!does || e.ctrlKey || e.metaKey || e.altKey) return;
    e.preventDefault();
    does(e.shiftKey);
    on.draw();
  });
}
