"""Averages networks that were trained on from one start, weight by weight, and writes the mean as weights and as ONNX. See README.md."""

import argparse

import torch

import leaves
import model
import roots
import training

KINDS = {"roots": (roots, "16,32,64,96:0,1,1,2", 192), "leaves": (leaves, "16,32,48,64,80:0,1,1,1,2", 384)}


def main():
    a = argparse.ArgumentParser()
    a.add_argument("kind", choices=KINDS)
    a.add_argument("weights", nargs="+", help="files of weights, each with its part as FILE or FILE=PART")
    a.add_argument("--out", default="mean", help="name of what is written: NAME.pt and NAME.onnx")
    a.add_argument("--line", type=float, default=0.0, help="roots: what is added to the line's bias; lengths change by nearly as much in the logarithm")
    a.add_argument("--steeper", type=float, default=1.0, help="leaves: what yellow's logits are multiplied with, so that its share goes further towards 0 or 1")
    a.add_argument("--yellow", type=float, default=0.0, help="leaves: what is then added to yellow's bias, so that more leaf is read as yellow")
    o = a.parse_args()
    room, spec, side = KINDS[o.kind]
    named = [w.split("=") for w in o.weights]
    parts = [float(n[1]) if len(n) > 1 else 1.0 for n in named]
    nets = [model.from_spec(spec, room.CHANNELS, room.OUT) for _ in named]
    for net, n in zip(nets, named):
        training.load(net, n[0])
    states = [net.state_dict() for net in nets]
    state = {k: sum(p * s[k] for p, s in zip(parts, states)) / sum(parts) for k in states[0]}
    for name, steeper, more in ("line", 1.0, o.line), ("yellow", o.steeper, o.yellow):
        if name in room.MAPS:
            first = 4 * room.MAPS.index(name)
            state["last.weight"][first : first + 4] *= steeper
            state["last.bias"][first : first + 4] = steeper * state["last.bias"][first : first + 4] + more
    net = nets[0]
    net.load_state_dict(state)
    torch.save(state, o.out + ".pt")
    model.export(net, room.CHANNELS, o.out + ".onnx", side, side)


if __name__ == "__main__":
    main()
