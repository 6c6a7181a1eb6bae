"""Averages networks that were trained on from one start, weight by weight, and writes the mean as weights and as ONNX. See README.md."""

import argparse

import torch

import leaves
import model
import roots
import training

KINDS = {"roots": (roots, "16,32,64,96:0,1,1,2", 192), "leaves": (leaves, "16,32,48,64,80:0,1,1,1,2", 384)}


def channels(room, name):
    """The network's outputs that are a map's, one for each pixel of a square."""
    first = 4 * room.MAPS.index(name)
    return slice(first, first + 4)


def main():
    a = argparse.ArgumentParser()
    a.add_argument("kind", choices=KINDS)
    a.add_argument("weights", nargs="+", help="files of weights, each with its part as FILE or FILE=PART")
    a.add_argument("--out", default="mean", help="name of what is written: NAME.pt and NAME.onnx")
    a.add_argument("--steeper", nargs="*", default=[], metavar="MAP=K", help="multiplies a map's logits, so that its shares go further towards 0 or 1: yellow=1.6")
    a.add_argument("--more", nargs="*", default=[], metavar="MAP=B", help="is then added to a map's bias: yellow=0.45 reads more leaf as yellow, line=-0.055 makes roots a twentieth shorter")
    o = a.parse_args()
    room, spec, side = KINDS[o.kind]
    named = [w.split("=") for w in o.weights]
    parts = [float(n[1]) if len(n) > 1 else 1.0 for n in named]
    nets = [model.from_spec(spec, room.CHANNELS, room.OUT) for _ in named]
    for net, n in zip(nets, named):
        training.load(net, n[0])
    states = [net.state_dict() for net in nets]
    state = {k: sum(p * s[k] for p, s in zip(parts, states)) / sum(parts) for k in states[0]}
    for name, k in (pair.split("=") for pair in o.steeper):
        state["last.weight"][channels(room, name)] *= float(k)
        state["last.bias"][channels(room, name)] *= float(k)
    for name, more in (pair.split("=") for pair in o.more):
        state["last.bias"][channels(room, name)] += float(more)
    net = nets[0]
    net.load_state_dict(state)
    torch.save(state, o.out + ".pt")
    model.export(net, room.CHANNELS, o.out + ".onnx", side, side)


if __name__ == "__main__":
    main()
