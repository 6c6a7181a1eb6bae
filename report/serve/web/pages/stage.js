// The picture: zoomed and pushed about, with the overlay on or off, its plugs to choose, and the grid's corners to drag.

// fingerPx is what a finger hits for certain (WCAG 2.2, success criterion 2.5.5): a tapped plug that is smaller is brought near, so
// that the one that was meant can be seen and its neighbours can be tapped.
const fingerPx = 44;

const svgNS = "http://www.w3.org/2000/svg";

// onto maps the unit square onto four corners in a perspective (Heckbert 1989, Fundamentals of Texture Mapping and Image Warping, 2.2.3).
export function onto([[x0, y0], [x1, y1], [x2, y2], [x3, y3]]) {
  const sx = x0 - x1 + x2 - x3, sy = y0 - y1 + y2 - y3;
  const ax = x1 - x2, bx = x3 - x2, ay = y1 - y2, by = y3 - y2;
  const det = ax * by - bx * ay;
  const g = (sx * by - bx * sy) / det, h = (ax * sy - sx * ay) / det;
  return (u, v) => {
    const w = g * u + h * v + 1;
    return [((x1 - x0 + g * x1) * u + (x3 - x0 + h * x3) * v + x0) / w, ((y1 - y0 + g * y1) * u + (y3 - y0 + h * y3) * v + y0) / w];
  };
}

const svg = (name, attributes) => {
  const e = document.createElementNS(svgNS, name);
  for (const [key, value] of Object.entries(attributes)) {
    e.setAttribute(key, value);
  }
  return e;
};

export class Stage {
  // chosen is called with a plug's name, drawn whenever something else is shown.
  constructor(root, chosen, drawn) {
    Object.assign(this, { root, chosen, drawn, photo: null, overlayOn: true, plug: "", grid: null, corner: -1, scale: 1, x: 0, y: 0 });
    this.fingers = new Map(); // by pointer: where it is
    this.pinched = false;
    this.words = document.createElement("p");
    this.words.className = "words";
    this.page = document.createElement("div");
    this.page.className = "sheet-of";
    root.addEventListener("wheel", (e) => {
      e.preventDefault();
      this.zoom(Math.exp(-e.deltaY / 400), e.clientX, e.clientY);
    }, { passive: false });
    root.addEventListener("pointerdown", (e) => this.press(e));
    new ResizeObserver(() => this.photo && this.untouched && this.fit()).observe(root);
  }

  say(words) {
    const busy = document.createElement("p");
    busy.className = "busy";
    busy.textContent = words;
    this.photo = null;
    this.root.replaceChildren(busy);
  }

  // show draws a photo; keepView leaves zoom and place as they are, after a correction.
  show(photo, keepView) {
    this.photo = photo;
    this.grid = null;
    if (photo.gone) {
      this.overlayOn = true; // it is all that is left to look at
    }
    this.img = new Image();
    if (!photo.gone) this.img.src = `/picture?id=${photo.id}`;
    this.img.alt = "The photo";
    this.img.draggable = false;
    this.window = document.createElement("div");
    this.window.className = "window";
    if (photo.overlay !== null) {
      const [x, y, wide, high] = photo.overlay;
      const over = new Image();
      over.src = `/overlay?id=${photo.id}&of=${encodeURIComponent(photo.history.length)}`;
      over.alt = "Counted areas";
      over.draggable = false;
      over.onload = () => { // between its headline and its legend lies the photo
        const k = photo.width / wide;
        over.style.width = `${over.naturalWidth * k}px`;
        over.style.height = `${over.naturalHeight * photo.height / high}px`;
        over.style.left = `${-x * k}px`;
        over.style.top = `${-y * photo.height / high}px`;
      };
      this.window.append(over);
    }
    this.svg = svg("svg", { width: photo.width, height: photo.height, viewBox: `-0.5 -0.5 ${photo.width} ${photo.height}` });
    this.page.style.width = `${photo.width}px`;
    this.page.style.height = `${photo.height}px`;
    this.img.style.width = `${photo.width}px`;
    this.img.style.height = `${photo.height}px`;
    this.page.replaceChildren(...(photo.gone ? [] : [this.img]), this.window, this.svg);
    this.root.replaceChildren(this.page, this.words);
    this.draw();
    if (!keepView || !this.placed) {
      this.fit();
    }
  }

  corners() {
    return this.grid ?? this.photo.corners;
  }

  // draw lays plugs, or the grid that is being moved, over the picture.
  draw() {
    this.window.hidden = !this.overlayOn;
    const corners = this.corners();
    const shapes = [];
    if (corners !== null) {
      const { rows, columns } = this.photo;
      const at = onto(corners);
      for (let r = 0; r < rows; r++) {
        for (let c = 0; c < columns; c++) {
          const name = String.fromCharCode(65 + r) + (c + 1);
          const seen = this.photo.plugs.find((p) => p.plug === name);
          const kind = this.grid ? "moving" : `${name === this.plug ? "chosen" : ""} ${seen?.flags.some((f) => f.endsWith("by hand") && f !== "grid by hand") ? "hand" : ""}`;
          const points = [[c, r], [c + 1, r], [c + 1, r + 1], [c, r + 1]].map(([u, v]) => at(u / columns, v / rows).map((n) => n.toFixed(1)).join(",")).join(" ");
          const shape = svg("polygon", { points, class: kind, "data-plug": name });
          if (name === this.plug) {
            shapes.push(shape);
          } else {
            shapes.unshift(shape);
          }
        }
      }
      if (this.grid !== null) {
        this.grid.forEach(([x, y], i) => shapes.push(svg("circle", { cx: x, cy: y, r: 9 / this.scale, class: i === this.corner ? "chosen" : "", "data-corner": i })));
      }
    }
    this.svg.replaceChildren(...shapes);
    const zoom = `Zoom ${Math.round(100 * this.scale)} %`;
    this.words.textContent = this.grid !== null
      ? `Drag a corner, or drag inside the grid to move all of it. ${this.corner < 0 ? "All" : `Corner ${this.corner + 1}`} chosen. Keys: 0–4 choose, arrows move, Enter saves, Esc cancels.`
      : this.photo.gone ? `${zoom}, ${this.photo.overlay === null ? "photo and overlay are missing" : "only the overlay is left"}${this.plug ? `, ${this.plug}` : ""}` : `${zoom}, overlay ${this.photo.overlay === null ? "missing" : this.overlayOn ? "on" : "off"}${this.plug ? `, ${this.plug}` : ""}`;
    this.drawn();
  }

  place() {
    this.page.style.transform = `translate(${this.x}px, ${this.y}px) scale(${this.scale})`;
    this.root.classList.toggle("near", this.scale >= 2);
    this.placed = true;
    this.draw();
  }

  fit() {
    const { clientWidth: wide, clientHeight: high } = this.root;
    this.scale = Math.min(wide / this.photo.width, high / this.photo.height) || 1;
    this.x = (wide - this.scale * this.photo.width) / 2;
    this.y = (high - this.scale * this.photo.height) / 2;
    this.place();
    this.untouched = true;
  }

  zoom(factor, clientX, clientY) {
    if (this.photo === null) {
      return;
    }
    const box = this.root.getBoundingClientRect();
    const px = (clientX ?? box.left + box.width / 2) - box.left, py = (clientY ?? box.top + box.height / 2) - box.top;
    const scale = Math.min(32, Math.max(0.02, this.scale * factor));
    this.x = px - (px - this.x) * scale / this.scale;
    this.y = py - (py - this.y) * scale / this.scale;
    this.scale = scale;
    this.untouched = false;
    this.place();
  }

  // toPlug brings a plug to the middle, close enough to see its roots.
  toPlug(name) {
    const i = this.indexOf(name);
    if (i === null || this.corners() === null) {
      return;
    }
    const [x, y] = onto(this.corners())((i.c + 0.5) / this.photo.columns, (i.r + 0.5) / this.photo.rows);
    const [x1, y1] = onto(this.corners())((i.c + 1.5) / this.photo.columns, (i.r + 0.5) / this.photo.rows);
    this.scale = 0.5 * Math.min(this.root.clientWidth, this.root.clientHeight) / Math.hypot(x1 - x, y1 - y);
    this.x = this.root.clientWidth / 2 - this.scale * x;
    this.y = this.root.clientHeight / 2 - this.scale * y;
    this.untouched = false;
    this.place();
  }

  // pitch returns how far a plug is from the next on the screen, in px.
  pitch(name) {
    const { r, c } = this.indexOf(name);
    const at = onto(this.corners());
    const [x, y] = at(c / this.photo.columns, (r + 0.5) / this.photo.rows);
    const [x1, y1] = at((c + 1) / this.photo.columns, (r + 0.5) / this.photo.rows);
    return this.scale * Math.hypot(x1 - x, y1 - y);
  }

  indexOf(name) {
    const r = name.charCodeAt(0) - 65, c = Number(name.slice(1)) - 1;
    return this.photo !== null && r >= 0 && r < this.photo.rows && c >= 0 && c < this.photo.columns ? { r, c } : null;
  }

  choose(name) {
    this.plug = name;
    if (this.photo !== null) {
      this.draw();
    }
  }

  // arrows go about the plugs as they lie in the picture, which may be turned.
  neighbour(dx, dy) {
    const from = this.indexOf(this.plug || "A1");
    if (this.plug === "" || from === null || this.corners() === null) {
      return "A1";
    }
    const at = onto(this.corners());
    const middle = (r, c) => at((c + 0.5) / this.photo.columns, (r + 0.5) / this.photo.rows);
    const [x, y] = middle(from.r, from.c);
    let best = this.plug, most = 0.5;
    for (const [dr, dc] of [[0, 1], [0, -1], [1, 0], [-1, 0]]) {
      const r = from.r + dr, c = from.c + dc;
      if (r < 0 || c < 0 || r >= this.photo.rows || c >= this.photo.columns) {
        continue;
      }
      const [nx, ny] = middle(r, c);
      const along = ((nx - x) * dx + (ny - y) * dy) / Math.hypot(nx - x, ny - y);
      if (along > most) {
        [best, most] = [String.fromCharCode(65 + r) + (c + 1), along];
      }
    }
    return best;
  }

  beginGrid() {
    this.grid = this.photo.corners.map((c) => [...c]);
    this.corner = -1;
    this.draw();
  }

  endGrid() {
    this.grid = null;
    this.draw();
  }

  nudge(dx, dy) {
    this.grid.forEach((c, i) => {
      if (this.corner < 0 || this.corner === i) {
        c[0] += dx;
        c[1] += dy;
      }
    });
    this.draw();
  }

  // press follows one finger, which pushes the picture or the grid about or chooses a plug, or two, which zoom.
  press(e) {
    if (this.photo === null || e.button !== 0) {
      return;
    }
    this.fingers.set(e.pointerId, [e.clientX, e.clientY]);
    this.root.setPointerCapture(e.pointerId);
    if (this.fingers.size > 1) {
      this.pinched = true;
      return;
    }
    this.pinched = false;
    const corner = e.target.dataset?.corner;
    const plug = e.target.dataset?.plug;
    const grid = this.grid !== null && (corner !== undefined || plug !== undefined);
    if (grid) {
      this.corner = corner === undefined ? -1 : Number(corner);
    }
    let far = 0;
    const move = (m) => {
      const before = this.fingers.get(m.pointerId);
      if (before === undefined) {
        return;
      }
      if (this.fingers.size > 1) {
        this.pinch(m, before);
        return;
      }
      const dx = m.clientX - before[0], dy = m.clientY - before[1];
      far += Math.abs(dx) + Math.abs(dy);
      this.fingers.set(m.pointerId, [m.clientX, m.clientY]);
      if (grid) {
        this.nudge(dx / this.scale, dy / this.scale);
      } else if (far > 6) {
        this.x += dx;
        this.y += dy;
        this.untouched = false;
        this.place();
      }
    };
    const up = (u) => {
      this.fingers.delete(u.pointerId);
      if (this.fingers.size > 0) {
        return;
      }
      this.root.removeEventListener("pointermove", move);
      this.root.removeEventListener("pointerup", up);
      this.root.removeEventListener("pointercancel", up);
      if (!grid && !this.pinched && far <= 6 && plug !== undefined) {
        this.chosen(plug);
        if (e.pointerType === "touch" && this.pitch(plug) < fingerPx) {
          this.toPlug(plug);
        }
      }
    };
    this.root.addEventListener("pointermove", move);
    this.root.addEventListener("pointerup", up);
    this.root.addEventListener("pointercancel", up);
  }

  // pinch zooms by how two fingers part, about the middle between them.
  pinch(m, before) {
    const other = [...this.fingers].find(([id]) => id !== m.pointerId)[1];
    const now = [m.clientX, m.clientY];
    const apart = ([x, y]) => Math.max(10, Math.hypot(x - other[0], y - other[1]));
    this.fingers.set(m.pointerId, now);
    this.zoom(apart(now) / apart(before), (now[0] + other[0]) / 2, (now[1] + other[1]) / 2);
  }
}
