"""Trains the network for plug bottoms: from nothing to a model and a report. See README.md."""

import math

import torch
import torch.nn.functional as F

import camera
import pool
import training

PX_PER_MM = 4.8  # of a prepared patch
SIDE = 192  # prepared pixels each way: 40 mm
MAPS = ["white", "brown", "plug", "line"]
SPREADS = 3  # root, brown, line
OUT = 4 * len(MAPS) + SPREADS
CHANNELS = 3 * 4 + 1  # squares of 2 × 2 pixels of light, and how blurred the photo is

FLOOR = [12.0, 8.0, 30.0, 40.0]  # sums of root, brown (mm²), line (mm) and plug (mm²) below these matter by their amount and not by their ratio

APART = [0.1, 0.05, 0.05]  # what it costs if two photos of a drawing give other sums of root, brown and line


def photo(p, d, b, device, plain=0.08):
    """A batch of prepared patches and their labels. The second half shows the same drawings as the first, by another camera; plain is the part of the drawings
    that becomes plain surfaces."""
    batch = p.planes[torch.randint(p.n, (b // 2,), generator=d.g, device=device)]
    light = torch.stack([pool.light(p.plane(batch, "light_" + k)) for k in "rgb"], 1)
    share = torch.stack([p.plane(batch, k).float() / 255 for k in ("white", "brown", "plug")], 1)
    line = p.plane(batch, "line")[:, None].float() / 128 * p.per_mm  # mm per mm²
    light, share, line = plain_surfaces(light, share, line, d, plain)
    light = camera.other_ground(light, share[:, :2].sum(1, keepdim=True).clamp(0, 1), d, 0.25, 1.0)
    per_mm = p.per_mm
    if d.chance(0.4):  # as a part of a larger plug with thicker roots
        larger = d.log(1.0, 1.9)
        per_mm, line = per_mm / larger, line / larger
    light = rim_shade(light, share[:, 2:], d, per_mm)
    shots = [camera.photograph(light, [share, line], d, camera.scale(d), (per_mm, PX_PER_MM), SIDE) for _ in range(2)]
    x, share, line, blurred = (torch.cat(v) for v in zip(*[(x, *maps, blurred) for x, maps, blurred in shots]))
    return dict(x=x, blur=blurred, share=share.clamp(0, 1), line=line[:, 0] / PX_PER_MM)  # line: pixels of centre line in each pixel


def plain_surfaces(light, share, line, d, part):
    """That part of the drawings becomes a plain surface all over: paper, board, cloth, without a plug or a root."""
    b, _, s, _ = light.shape
    if not (plain := d.uniform((b,)) < part).any():
        return light, share, line
    own = torch.exp(d.uniform((b, 1, 1, 1), math.log(0.03), math.log(0.9))) * torch.exp(0.08 * d.normal((b, 3, 1, 1)))
    grain = camera.grain(d, b, s, (8, 40, 160), lambda: d.uniform((b, 1, 1, 1), 0, 0.12))
    keep = (~plain).float()[:, None, None, None]
    return torch.where(plain[:, None, None, None], own * torch.exp(grain), light), share * keep, line * keep


def rim_shade(light, plug, d, per_mm):
    """The wall of the hole takes the light from a plug's outermost ring, in some trays nearly all of it."""
    b = light.shape[0]
    near = camera.blur(plug, d.log(0.12, 0.9) * per_mm)
    deep = (2 * near - 1).clamp(0, 1)
    dark = d.uniform((b, 1, 1, 1), 0.2, 0.97) * (d.uniform((b, 1, 1, 1)) < 0.7)
    return light * (1 - plug * dark * (1 - deep) ** 1.5)


def encode(s, d):
    """What the network is given."""
    x = F.pixel_unshuffle(s["x"] - 0.4, 2)
    return torch.cat([x, camera.blur_plane(s["blur"], x)], 1)


def split(y):
    """The network's maps at the prepared scale, and the logarithms of the relative errors of their sums."""
    k = 4 * len(MAPS)
    return F.pixel_shuffle(y[:, :k], 2), y[:, k:].mean((2, 3))


def sums(share, line):
    """Root area, brown root area (mm²), length (mm) and plug area (mm²) of each patch."""
    white, brown, plug = (share[:, k].sum((1, 2)) / PX_PER_MM**2 for k in range(3))
    return torch.stack([white + brown, brown, line.sum((1, 2)) / PX_PER_MM, plug], 1)


def loss(y, s):
    maps, spread = split(y)
    share, line = s["share"], s["line"]
    part = F.binary_cross_entropy_with_logits(maps[:, :3], share, reduction="none").mean((0, 2, 3))
    rate = F.softplus(maps[:, 3]) + 1e-4
    poisson = (rate - line * torch.log(rate)).mean()
    got, true = sums(torch.sigmoid(maps[:, :3]), rate), sums(share, line)
    off = ((got - true) / (got.detach() + training.constant(FLOOR, y.device))).clamp(-1.5, 1.5)  # divided by what was found: divided by the truth, reading too little costs less than reading too much
    total = (off**2).mean(0)
    one, other = off[:, :SPREADS].chunk(2)  # of the same drawings
    apart = ((one - other) ** 2).mean(0)
    r = off[:, :SPREADS].detach()
    likelihood = (0.5 * (r * torch.exp(-spread)) ** 2 + spread).mean(0)
    whole = 2 * part[0] + 4 * part[1] + 0.5 * part[2] + 0.6 * poisson + (total * training.constant([0.06, 0.06, 0.06, 0.02], y.device)).sum() + (apart * training.constant(APART, y.device)).sum() + 0.004 * likelihood.sum()
    return whole, lambda: dict(got=got, true=true, u=torch.exp(spread))


def show(name, results):
    cat = lambda k: torch.cat([r[k] for r in results])
    got, true, u = cat("got"), cat("true"), cat("u")
    words = []
    for k, (what, least) in enumerate((("root", 8.0), ("brown", 5.0), ("line", 30.0), ("plug", 50.0))):
        g, t = got[:, k], true[:, k]
        big = t > least
        e = ((g - t).abs() / t)[big]
        text = "%s %+.2f %.1f %.1f" % (what, 100 * (g.sum() / t.sum().clamp(min=1) - 1).item(), 100 * e.median().item() if len(e) else 0, 100 * e.quantile(0.95).item() if len(e) else 0)
        if k < SPREADS:
            text += " U %.0f" % (100 * ((g - t).abs() < 2 * u[:, k] * (g + FLOOR[k])).float().mean().item())
        words.append(text)
    print(f"  {name:12s} bias, median, p95 %, U covers %: " + " | ".join(words), flush=True)


if __name__ == "__main__":
    training.main("roots", photo, encode, loss, show, CHANNELS, OUT, SIDE, styles="relief,brush", held_out="painted", pool_size=12000, held_size=256, shot=160, batch=128, each=16, pairs=True)
