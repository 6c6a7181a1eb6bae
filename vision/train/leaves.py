"""Trains the network for canopies: from nothing to a model and a report. See README.md."""

import math

import torch
import torch.nn.functional as F

import camera
import pool
import training

PX_PER_MM = 3.0  # of the prepared tray
SIDE = 384  # prepared pixels each way of a training patch: 128 mm
MAPS = ["leaf", "yellow", "dead"]
OFFSETS, COLOURS, SPREADS = 2, 3, 2
OUT = 4 * len(MAPS) + OFFSETS + COLOURS + SPREADS
CHANNELS = 3 * 4 + 1 + 2 + 1 + 4 + 4  # squares of 2 × 2 pixels of light, where the cells' middles are, from which hue and chroma on leaf is yellow, how blurred the photo is, how far within yellow each pixel's colour is, and how green it is for this photo
FAR = 20.0  # mm: the unit of offsets
HUE, CHROMA = 105.0, 15.0
GREEN = 0.5  # the part of the drawings whose crop is made green all over
SOIL = 0.4  # the part of the drawings that lies on a ground that no style draws

D65 = [0.3127 / 0.3290, 1.0, (1 - 0.3127 - 0.3290) / 0.3290]
XYZ = [[0.4123908, 0.3575843, 0.1804808], [0.2126390, 0.7151687, 0.0721923], [0.0193308, 0.1191948, 0.9505322]]  # IEC 61966-2-1


def lab(rgb):
    """CIELAB of linear sRGB, B × 3 × …, in its usual units (CIE 15:2004, 8.2.1)."""
    m = rgb.new_tensor(XYZ) / rgb.new_tensor(D65)[:, None]
    t = torch.einsum("ij,bj...->bi...", m, rgb)
    f = torch.where(t > (6 / 29) ** 3, t.clamp(min=1e-6) ** (1 / 3), t / (3 * (6 / 29) ** 2) + 4 / 29)
    return torch.stack([116 * f[:, 1] - 16, 500 * (f[:, 0] - f[:, 1]), 200 * (f[:, 1] - f[:, 2])], 1)


def photo(p, d, b, device, plain=0.0):
    """A batch of prepared patches and their labels; plain is the part of the drawings that becomes plain surfaces."""
    pick = [int(d.one(0, p.n)) for _ in range(b)]
    batch = p.planes[torch.tensor(pick, device=device)]
    meta = [p.meta[i] for i in pick]
    light = torch.stack([pool.light(p.plane(batch, "light_" + k)) for k in "rgb"], 1)
    own = torch.stack([pool.light(p.plane(batch, "own_" + k)) for k in "rgb"], 1)
    leaf = p.plane(batch, "leaf").float() / 255
    dead = p.plane(batch, "dead").float() / 255
    plant = p.plane(batch, "plant").float()
    if plain > 0:
        light, keep = plain_surfaces(light, d, plain)
        leaf, dead, plant = leaf * keep, dead * keep, plant * keep
    light, own = greened(light, own, leaf, dead, d, GREEN)
    light = camera.on_soil(light, leaf[:, None], d, SOIL)
    colour = lab(own)
    hue, chroma = limits(colour, leaf, d)
    yellow = leaf * below(colour, hue, chroma)
    q = camera.scale(d, most=8.6)
    # the drawing holds more than a patch: anywhere in it
    room = p.side / p.per_mm / 2 - SIDE / PX_PER_MM / 2 - 1
    at = d.uniform((b, 2), -room, room)
    x, (shares, weighted), kinds, frame, blurred = camera.photograph_flat(
        light, [torch.stack([leaf, yellow, dead], 1), torch.cat([colour * leaf[:, None], leaf[:, None]], 1)], plant[:, None], at, d, q, (p.per_mm, PX_PER_MM), SIDE)
    bases, centres, pitch = places(meta, at, frame, p, device)
    return dict(x=x, blur=blurred, shares=shares.clamp(0, 1), own=weighted[:, :3] / weighted[:, 3:].clamp(min=0.05), plant=kinds[:, 0].byte(), bases=bases, centres=centres, pitch=pitch, hue=hue, chroma=chroma)


def greened(light, own, leaf, dead, d, part):
    """That part of the drawings becomes a crop that is green all over, as most crops are, but for what is dead: leaves keep how light they are and a little of their
    colour, and are a little uneven. light, own: B × 3 × S × S; leaf, dead: B × S × S, shares."""
    b, _, s, _ = light.shape
    some = (d.uniform((b, 1, 1, 1)) < part).float() * (leaf - dead).clamp(0, 1)[:, None]
    share = light.new_tensor(XYZ[1])[None, :, None, None]
    red, blue = d.uniform((b, 1, 1, 1), 0.35, 0.85), d.uniform((b, 1, 1, 1), 0.15, 0.8)  # of green's light
    tint = torch.cat([red, torch.ones_like(red), blue], 1)
    tint = tint / (tint * share).sum(1, keepdim=True)
    keep = d.uniform((b, 1, 1, 1), 0, 0.4)
    uneven = torch.exp(camera.grain(d, b, s, (12, 50, 200, s), lambda: d.uniform((b, 1, 1, 1), 0, 0.12)))

    def green(v):
        y = (v * share).sum(1, keepdim=True).clamp(min=1e-4)
        return v + some * (y * tint ** (1 - keep) * (v / y).clamp(0.05, 3) ** keep * uneven - v)

    return green(light), green(own)


def limits(colour, leaf, d):
    """The hue and chroma from which on leaf is yellow in each patch: the usual ones in nearly half of them. In the others the hue is any, or that of some place
    on the drawing's own leaves, so that about half of the leaf is past it: the network must compare with the limit, and cannot go by what is usually yellow."""
    b, dev = len(leaf), leaf.device
    there = (leaf > 0.5).flatten(1).float() + 1e-9
    at = torch.multinomial(there[:, ::7], 1, generator=d.g) * 7  # every seventh texel will do
    a, bb = (colour[:, k].flatten(1).gather(1, at)[:, 0] for k in (1, 2))
    own = (torch.rad2deg(torch.atan2(bb, a)) + 1.5 * d.normal((b,))).clamp(80, 140)
    way = d.uniform((b,))
    hue = torch.where(way < 0.45, torch.full((b,), HUE, device=dev), torch.where(way < 0.6, d.uniform((b,), 85, 122), own))
    chroma = torch.where(d.uniform((b,)) < 0.7, torch.full((b,), CHROMA, device=dev), d.uniform((b,), 8, 28))
    return hue, chroma


def plain_surfaces(light, d, part):
    """That part of the drawings becomes a surface without leaf all over: soil, a bench, boards, cloth. Returns the light, and 0 for those and 1 for the rest."""
    b, _, s, _ = light.shape
    dev = light.device
    plain = d.uniform((b, 1, 1)) < part
    keep = (~plain).float()
    if not plain.any():
        return light, keep
    level = torch.exp(d.uniform((b, 1, 1, 1), math.log(0.01), math.log(0.9)))
    warm = d.uniform((b, 1, 1, 1), 0, 0.5) * d.uniform((b, 1, 1, 1)).lt(0.6)  # soil and wood are brown
    tint = torch.exp(torch.cat([warm, torch.zeros_like(warm), -1.2 * warm], 1) + 0.06 * d.normal((b, 3, 1, 1)))
    grain = camera.grain(d, b, s, (8, 40, 160, 480), lambda: d.uniform((b, 1, 1, 1), 0, 0.3) * d.uniform((b, 1, 1, 1)))
    i = torch.arange(s, device=dev).float()
    yy, xx = torch.meshgrid(i, i, indexing="ij")
    turn, pitch = d.uniform((b, 1, 1), 0, math.pi), torch.exp(d.uniform((b, 1, 1), math.log(4.0), math.log(300.0)))  # texels from thread to thread or board to board
    along, across = ((xx * torch.cos(t) + yy * torch.sin(t)) / pitch for t in (turn, turn + math.pi / 2))
    weave = torch.sin(2 * math.pi * across) * torch.where(d.uniform((b, 1, 1)) < 0.5, torch.sin(2 * math.pi * along), torch.ones_like(along))
    weave = weave[:, None] * d.uniform((b, 1, 1, 1), 0, 0.25) * d.uniform((b, 1, 1, 1)).lt(0.4)
    return torch.where(plain[:, None], (level * tint * torch.exp(grain + weave)).clamp(max=1.5), light), keep


def below(colour, hue, chroma):
    """Whether a colour's hue lies below the limit and not past red, at more than the least chroma: 0 or 1."""
    a, b = colour[:, 1], colour[:, 2]
    t = torch.deg2rad(hue)[:, None, None]
    return ((a * a + b * b > (chroma**2)[:, None, None]) & (a * torch.sin(t) - b * torch.cos(t) > 0)).float()


def margin(x, hue, chroma):
    """How far within yellow's limits a pixel's colour is as it looks, in units of 10 of CIELAB's a and b, at most 2 either way. x: roots of light, B × 3 × h × w."""
    colour = lab(x.square())
    a, b = colour[:, 1], colour[:, 2]
    t = torch.deg2rad(hue)[:, None, None]
    past = torch.minimum(a * torch.sin(t) - b * torch.cos(t), (a * a + b * b).sqrt() - chroma[:, None, None])
    return (past / 10).clamp(-2, 2)[:, None]


GREEN_FROM, GREEN_TO, GREEN_STEPS = -1.0, 2.0, 96
DARK = 0.02  # light, paper 1: added before logarithms are taken, since a photo's darkest places have no colour


def greenness(x):
    """How green each pixel is for its photo: twice green's logarithm less red's and blue's, from the value that parts the photo's pixels best into two kinds (Otsu
    1979, doi:10.1109/TSMC.1979.4310076), in units of how far apart the kinds' means are. A lamp of another colour moves all pixels alike and changes nothing.
    x: roots of light, B × 3 × h × w; returns B × 1 × h × w, -1.5 to 1.5."""
    r, g, b = (x.square() + DARK).log().unbind(1)
    green = 2 * g - r - b
    n = len(green)
    bins = ((green - GREEN_FROM) / (GREEN_TO - GREEN_FROM) * GREEN_STEPS).long().clamp(0, GREEN_STEPS - 1).reshape(n, -1)
    share = torch.zeros(n, GREEN_STEPS, device=x.device).scatter_add(1, bins, torch.ones_like(bins, dtype=torch.float32)) / bins.shape[1]
    value = GREEN_FROM + (torch.arange(GREEN_STEPS, device=x.device) + 0.5) * (GREEN_TO - GREEN_FROM) / GREEN_STEPS
    below, sum_below = share.cumsum(1), (share * value).cumsum(1)
    above, sum_above = 1 - below, (share * value).sum(1, keepdim=True) - sum_below
    apart = (sum_above / above.clamp(min=1e-6) - sum_below / below.clamp(min=1e-6)) * (below > 1e-6) * (above > 1e-6)
    at = (below * above * apart.square()).argmax(1, keepdim=True)
    limit = value[at[:, 0]] + 0.5 * (GREEN_TO - GREEN_FROM) / GREEN_STEPS
    unit = apart.gather(1, at)[:, 0].clamp(min=0.2)
    return ((green - limit[:, None, None]) / unit[:, None, None]).clamp(-1.5, 1.5)[:, None]


def places(meta, at, frame, p, device):
    """Bases (B × 256 × 2, the plant of number i + 1), a cell's middle (B × 2) and the pitch (B), in prepared pixels of each patch from its corner."""
    b = len(meta)
    bases = torch.full((b, 256, 2), 1e4, device=device)
    middle = torch.zeros((b, 2), device=device)
    pitch = torch.zeros(b, device=device)
    for i, m in enumerate(meta):
        if m.get("bases"):
            t = torch.tensor(m["bases"][:256], device=device)
            bases[i, : len(t)] = t
        middle[i] = torch.tensor(m["middle"], device=device)
        pitch[i] = m["pitch"] / p.per_mm * PX_PER_MM
    back = torch.linalg.inv(frame)

    def to_patch(v):
        mm = v / p.per_mm - p.side / p.per_mm / 2 - at[:, None]
        return mm @ back.transpose(1, 2) * PX_PER_MM + SIDE / 2

    return to_patch(bases), to_patch(middle[:, None])[:, 0], pitch


def cells(middle, pitch, side, step=1.0, slip=None):
    """Where each pixel lies from its nearest cell's middle, in pitches: B × 2 × side × side; step: prepared pixels a pixel."""
    i = (torch.arange(side, device=middle.device) + 0.5) * step
    yy, xx = torch.meshgrid(i, i, indexing="ij")
    at = torch.stack([xx, yy])[None] - middle[:, :, None, None]
    return (at / pitch[:, None, None, None] + 0.5) % 1 - 0.5


def encode(s, d):
    """What the network is given. The cells' middles are known to a mm or two only."""
    x = F.pixel_unshuffle(s["x"] - 0.4, 2)
    b, _, h, w = x.shape
    slip = 0.8 * PX_PER_MM * d.normal((b, 2)).clamp(-2, 2)
    off = cells(s["centres"] + slip, s["pitch"], h, step=2.0)
    near = ((off * s["pitch"][:, None, None, None] / PX_PER_MM) ** 2).sum(1, keepdim=True)  # mm²
    bump = torch.exp(-near / 50.0)
    limit = torch.stack([(s["hue"] - HUE) / 20, (s["chroma"] - CHROMA) / 15], 1)[:, :, None, None].expand(b, 2, h, w)
    within = F.pixel_unshuffle(margin(s["x"], s["hue"], s["chroma"]), 2)
    green = F.pixel_unshuffle(greenness(s["x"]), 2)
    return torch.cat([x, bump, limit, camera.blur_plane(s["blur"], x), within, green], 1)


def split(y):
    k = 4 * len(MAPS)
    maps = F.pixel_shuffle(y[:, :k], 2)
    return maps, y[:, k : k + OFFSETS], y[:, k + OFFSETS : k + OFFSETS + COLOURS], y[:, k + OFFSETS + COLOURS :]


def numbers(at, s):
    """The number of the cell that lies nearest to points of the patch (B × 2 × h × w, prepared pixels), and what numbers there are: 32 × 32 around the patch."""
    c = torch.round((at - s["centres"][:, :, None, None]) / s["pitch"][:, None, None, None]).long() + 16
    c = c.clamp(0, 31)
    return c[:, 1] * 32 + c[:, 0]


def loss(y, s):
    maps, offset, colour, spread = split(y)
    shares = s["shares"]
    part = F.binary_cross_entropy_with_logits(maps, shares, reduction="none").mean((0, 2, 3))
    p = torch.sigmoid(maps)
    b, _, h, w = offset.shape
    dev = y.device
    i = (torch.arange(h, device=dev) + 0.5) * 2
    yy, xx = torch.meshgrid(i, i, indexing="ij")
    here = torch.stack([xx, yy])[None]

    # the plant of each square of 2 × 2 pixels: that of the one with the most leaf
    sq = F.pixel_unshuffle(shares[:, :1], 2)
    most = sq.argmax(1, keepdim=True)
    plant = F.pixel_unshuffle(s["plant"][:, None].float(), 2).gather(1, most)[:, 0].long()
    leaf = sq.mean(1)
    known = (plant > 0) & (leaf > 0.02)
    base = s["bases"].gather(1, (plant - 1).clamp(min=0).reshape(b, -1, 1).expand(-1, -1, 2)).reshape(b, h, w, 2).permute(0, 3, 1, 2)
    weight = (leaf * known)[:, None]
    unit = FAR * PX_PER_MM
    want = (base - here) / unit
    miss = ((offset - want).abs().clamp(max=6) * weight).sum() / weight.sum().clamp(min=1) / 2
    own = F.avg_pool2d(s["own"] * shares[:, :1], 2) / F.avg_pool2d(shares[:, :1], 2).clamp(min=0.02)
    tone = (colour - own / 50.0).abs()
    tone = (tone * weight).sum() / weight.sum().clamp(min=1) / 3

    # sums by cell
    with torch.no_grad():
        got_cell = numbers(here + offset.detach() * unit, s)
        true_cell = numbers(base, s)
    area = lambda v: v / PX_PER_MM**2
    pooled = 4 * F.avg_pool2d(p[:, :2], 2)
    true4 = 4 * F.avg_pool2d(shares[:, :2], 2)

    def by_cell(v, cell):
        return torch.zeros((b, 1024), device=dev).scatter_add(1, cell.reshape(b, -1), v.reshape(b, -1))

    true = torch.stack([by_cell(area(true4[:, k]) * known, true_cell) for k in range(2)], -1)
    got = torch.stack([by_cell(area(pooled[:, k]), got_cell) for k in range(2)], -1)
    # a plant's sums over its own leaf and what is wrongly found elsewhere: whose leaf is whose is the offsets' business
    own_cell = torch.where(known, true_cell, got_cell)
    fair = torch.stack([by_cell(area(pooled[:, k]), own_cell) for k in range(2)], -1)
    border = torch.zeros((h, w), device=dev)
    border[0], border[-1], border[:, 0], border[:, -1] = 1, 1, 1, 1
    cut = by_cell(true4[:, 0] * known * border, true_cell) + by_cell(pooled[:, 0].detach() * border * (pooled[:, 0].detach() > 0.4), got_cell) > 0.5
    whole = (~cut) & ((true[..., 0] > 2) | (got[..., 0].detach() > 6))
    apart = training.constant([15.0, 6.0], dev)
    off = ((got.detach() - true) / (got.detach() + apart)).clamp(-1.5, 1.5)  # divided by what was found: divided by the truth, reading too little costs less than reading too much
    total = ((((fair - true) / (fair.detach() + apart)).clamp(-1.5, 1.5) ** 2) * whole[..., None]).sum((0, 1)) / whole.sum().clamp(min=1)
    all_got, all_true = area(p[:, :2].sum((2, 3))), area(shares[:, :2].sum((2, 3)))
    patch = (((all_got - all_true) / (all_got.detach() + training.constant([60.0, 30.0], dev))).clamp(-1, 1) ** 2).mean(0)

    # spreads: the leaf-weighted mean over a cell's squares is the logarithm of its sums' relative error
    weights = by_cell(pooled[:, 0].detach(), got_cell).clamp(min=1e-3)
    u = torch.stack([by_cell(pooled[:, 0].detach() * spread[:, k], got_cell) / weights for k in range(SPREADS)], -1)
    sure = whole & (got[..., 0].detach() > 2)
    likelihood = ((0.5 * (off * torch.exp(-u)) ** 2 + u) * sure[..., None]).sum((0, 1)) / sure.sum().clamp(min=1)

    whole_loss = (2 * part[0] + 2 * part[1] + part[2] + 0.4 * miss + 0.25 * tone + (total * training.constant([0.03, 0.03], dev)).sum()
                  + (patch * training.constant([0.2, 0.1], dev)).sum() + 0.004 * likelihood.sum())

    def results():
        mine = (got_cell == true_cell) | ~known
        right = (leaf * known * mine).sum() / (leaf * known).sum().clamp(min=1)
        tones = (colour * 50 - own).abs().mul(weight).sum((0, 2, 3)) / weight.sum().clamp(min=1)
        return dict(got=got[whole], true=true[whole], u=torch.exp(u[whole]), apart=apart, right=right, tones=tones, patch_got=all_got, patch_true=all_true)

    return whole_loss, results


def show(name, results):
    cat = lambda k: torch.cat([r[k] for r in results])
    got, true, u = cat("got"), cat("true"), cat("u")
    pg, pt = cat("patch_got"), cat("patch_true")
    words = []
    for k, what in enumerate(("leaf", "yellow")):
        big = true[:, k] > (10.0, 8.0)[k]
        e = ((got[:, k] - true[:, k]).abs() / true[:, k])[big]
        cover = ((got[:, k] - true[:, k]).abs() < 2 * u[:, k] * (got[:, k] + results[0]["apart"][k])).float().mean().item()
        words.append("%s bias %+.2f %% plant median %.1f p95 %.1f, U covers %.0f %%" % (what, 100 * (pg[:, k].sum() / pt[:, k].sum().clamp(min=1) - 1).item(), 100 * e.median().item() if len(e) else 0, 100 * e.quantile(0.95).item() if len(e) else 0, 100 * cover))
    share = (100 * (got[:, 1] / got[:, 0].clamp(min=1) - true[:, 1] / true[:, 0].clamp(min=1)).abs())[true[:, 0] > 10]
    right = sum(r["right"].item() for r in results) / len(results)
    tones = sum(r["tones"] for r in results) / len(results)
    print(f"  {name:12s} " + " | ".join(words) + " | yellow share p95 %.1f points | leaf at its own plant %.1f %% | own L a b off by %.1f %.1f %.1f" % (share.quantile(0.95).item() if len(share) else 0, 100 * right, *tones.tolist()), flush=True)


if __name__ == "__main__":
    training.main("leaves", photo, encode, loss, show, CHANNELS, OUT, SIDE, styles="foliage,herbarium", held_out="painted", pool_size=1800, held_size=48, shot=32, batch=24, each=4)
