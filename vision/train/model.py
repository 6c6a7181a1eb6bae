"""The coverage networks: a small U-net on squares of 2 × 2 pixels, all of whose layers run well in OpenCV's dnn on one core."""

import torch
import torch.nn as nn
import torch.nn.functional as F


class Block(nn.Module):
    """One 3 × 3 convolution beside a way around it."""

    def __init__(self, width):
        super().__init__()
        self.conv = nn.Conv2d(width, width, 3, padding=1)

    def forward(self, x):
        return x + F.relu(self.conv(x))


class Net(nn.Module):
    """widths and blocks go from fine to coarse; `blocks` on the way down, at least one on the way up.

    Takes B × channels × H × W, where squares of 2 × 2 prepared pixels lie in channels as torch's pixel_unshuffle lays them out; gives `out` maps of the same size.
    """

    def __init__(self, channels, out, widths, blocks):
        super().__init__()
        self.first = nn.Conv2d(channels, widths[0], 3, padding=1)
        stack = lambda w, n: nn.Sequential(*[Block(w) for _ in range(n)])
        self.down_blocks = nn.ModuleList([stack(w, n) for w, n in zip(widths, blocks)])
        self.down = nn.ModuleList([nn.Conv2d(a, b, 3, 2, 1) for a, b in zip(widths, widths[1:])])
        self.up = nn.ModuleList([nn.Conv2d(b, a, 1) for a, b in zip(widths, widths[1:])])
        self.up_blocks = nn.ModuleList([stack(w, max(1, n)) for w, n in zip(widths[:-1], blocks)])
        self.last = nn.Conv2d(widths[0], out, 1)

    def forward(self, x):
        x = F.relu(self.first(x))
        kept = []
        for i, blocks in enumerate(self.down_blocks):
            x = blocks(x)
            if i < len(self.down):
                kept.append(x)
                x = F.relu(self.down[i](x))
        for i in reversed(range(len(self.up))):
            x = self.up_blocks[i](kept[i] + F.interpolate(self.up[i](x), scale_factor=2.0, mode="nearest"))
        return self.last(x)


def from_spec(spec, channels, out):
    """A network from widths:blocks, each a list separated by commas."""
    widths, blocks = ([int(v) for v in part.split(",")] for part in spec.split(":"))
    return Net(channels, out, widths, blocks)


def export(net, channels, file, height, width):
    """Writes the network as ONNX (operator set 11, which OpenCV 4.6 reads); height and width in prepared pixels."""
    net = net.to("cpu").eval()
    x = torch.zeros(1, channels, height // 2, width // 2)
    options = dict(opset_version=11, input_names=["prepared"], output_names=["maps"], do_constant_folding=True)
    try:
        torch.onnx.export(net, x, file, dynamo=False, **options)
    except TypeError:  # PyTorch before 2.5 has but one exporter
        torch.onnx.export(net, x, file, **options)
