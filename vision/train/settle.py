"""Teaches a trained network for plug bottoms two things that follow without any truth: plain surfaces (paper, board, cloth) hold no roots, and a photo
turned or mirrored shows as much as before. On drawings the network has to return the mean of its own maps over all eight ways to lay the photo. Minutes on a
CPU. See README.md."""

import argparse

import torch
import torch.nn.functional as F

import camera
import model
import pool
import roots

PLAIN = 0.4  # share of patches without a drawing


def patches(o):
    """Shots of drawings and plain surfaces: what the network sees, and whether there is anything to see."""
    p = pool.Pool(o.draw, "roots", ["relief", "brush"], o.drawings, "cpu", o.folder, o.workers, each=8, first=1 + 10_000_000 * o.seed)
    p.refresh(wait_for=o.drawings)
    p.close()
    d = camera.Dice("cpu", o.seed)
    seen, plain = [], []
    for k in range(o.shots):
        s = roots.photo(p, d, o.shot, "cpu", plain=PLAIN)
        seen.append(roots.encode(s, d))
        plain.append((s["share"].sum((1, 2, 3)) + s["line"].sum((1, 2))) == 0)
        print(f"shot {k + 1} of {o.shots}: {int(plain[-1].sum())} plain", flush=True)
    return torch.cat(seen), torch.cat(plain)


WAYS = [(turn, mirror) for turn in range(4) for mirror in (False, True)]


def laid(maps, way, n):
    """B × C × h × w laid another way, whose first 4·n channels are squares of 2 × 2 pixels."""
    turn, mirror = way
    lay = lambda v: torch.rot90(v.flip(3) if mirror else v, turn, (2, 3))
    fine = F.pixel_unshuffle(lay(F.pixel_shuffle(maps[:, : 4 * n], 2)), 2)
    return torch.cat([fine, lay(maps[:, 4 * n :])], 1)


def back(maps, way, n):
    """Undoes laid."""
    turn, mirror = way
    return laid(maps, (turn, True) if mirror else (-turn % 4, False), n)  # a mirrored way undoes itself


@torch.no_grad()
def teacher(net, x):
    """The mean over all ways of the shares, lengths and spreads that the network returns, as logits and logarithms."""
    total = 0
    for way in WAYS:
        y = back(net(laid(x, way, 3)), way, len(roots.MAPS))
        share, rate, spread = torch.sigmoid(y[:, :12]), F.softplus(y[:, 12:16]), y[:, 16:]
        total = total + torch.cat([share, rate, spread], 1) / len(WAYS)
    share, rate, spread = total[:, :12].clamp(1e-5, 1 - 1e-5), total[:, 12:16].clamp(min=1e-5), total[:, 16:]
    return torch.cat([torch.logit(share), torch.log(torch.expm1(rate)), spread], 1)


def main():
    a = argparse.ArgumentParser()
    a.add_argument("--draw", default="./draw-closeups")
    a.add_argument("--start", required=True, help="weights to go on from")
    a.add_argument("--out", default="settled.pt")
    a.add_argument("--drawings", type=int, default=160)
    a.add_argument("--shots", type=int, default=40)
    a.add_argument("--shot", type=int, default=24, help="patches by one camera")
    a.add_argument("--steps", type=int, default=300)
    a.add_argument("--batch", type=int, default=24)
    a.add_argument("--rate", type=float, default=2e-4)
    a.add_argument("--workers", type=int, default=2)
    a.add_argument("--seed", type=int, default=91)
    a.add_argument("--folder", default="/dev/shm/closeups-settle")
    a.add_argument("--nets", default="16,32,64,96:0,1,1,2")
    o = a.parse_args()
    torch.manual_seed(o.seed)
    net = model.from_spec(o.nets, roots.CHANNELS, roots.OUT)
    net.load_state_dict(torch.load(o.start, map_location="cpu"))
    x, plain = patches(o)
    before = torch.cat([teacher(net, v) for v in x.split(32)])
    opt = torch.optim.Adam(net.parameters(), o.rate)
    for step in range(o.steps):
        for g in opt.param_groups:
            g["lr"] = o.rate * min(1, (step + 1) / 20) * (1 - step / o.steps)
        rows, way = torch.randint(len(x), (o.batch,)), WAYS[int(torch.randint(len(WAYS), ()))]
        with torch.autocast("cpu", torch.bfloat16):
            y = net(laid(x[rows], way, 3))
        loss = settled(y.float(), laid(before[rows], way, len(roots.MAPS)), plain[rows])
        opt.zero_grad()
        loss.backward()
        opt.step()
        if step % 20 == 19:
            print(f"step {step + 1}: {loss.item():.5f}", flush=True)
    torch.save(net.state_dict(), o.out)


def settled(y, before, plain):
    """Nothing on plain surfaces; elsewhere the shares, lengths and sums that there were."""
    (maps, spread), (maps0, spread0) = roots.split(y), roots.split(before)
    share, share0 = torch.sigmoid(maps[:, :3]), torch.sigmoid(maps0[:, :3])
    line, line0 = F.softplus(maps[:, 3]), F.softplus(maps0[:, 3])
    keep = (~plain).float()[:, None]
    got, want = roots.sums(share, line), keep * roots.sums(share0, line0)
    floor = y.new_tensor(roots.FLOOR)
    sums = (((got - want) / (want + floor)).clamp(-3, 3) ** 2).mean()
    there = keep[:, :, None, None]
    pixels = F.binary_cross_entropy_with_logits(maps[:, :3], share0 * there) + ((line - line0 * there[:, 0]) ** 2).mean()
    return pixels + 0.5 * sums + 0.05 * (((spread - spread0) * keep) ** 2).mean()


if __name__ == "__main__":
    main()
