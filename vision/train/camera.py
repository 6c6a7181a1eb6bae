"""A phone's camera, as far as it changes what is measured: photographs close-ups on the GPU, a batch at a time.

A close-up is seen straight on at `per_mm` texels per mm. `photograph` turns, mirrors and tilts it, sends it through lens, sensor and the phone's picture
processing (local tone mapping, tone curve, saturation, noise smoothing, sharpening, 8 bits, JPEG), and prepares the result as the program prepares a photo
(vision/roots/prepare.go): white balance and tone curve by the card's greys, one fixed scale by area. The labels go the same geometric way and no other.
"""

import math

import torch
import torch.nn.functional as F

GREYS = [255, 200, 150, 100, 50, 0]  # sRGB codes of the card's tone strip
INK_BLACK = 0.035  # light of printed black; paper is 1
INK = [0, 0.012, 0.025, 0.05, 0.1, 0.15]  # how far printed greys are off, as a share of their light


def to_linear(v):
    """sRGB code over its greatest to linear light (IEC 61966-2-1)."""
    return torch.where(v <= 0.04045, v / 12.92, ((v.clamp(min=0) + 0.055) / 1.055) ** 2.4)


def from_linear(l):
    """Linear light to the sRGB code over its greatest (IEC 61966-2-1)."""
    return torch.where(l <= 0.0031308, 12.92 * l, 1.055 * l.clamp(min=0.0031308) ** (1 / 2.4) - 0.055)


class Dice:
    """Random numbers on the GPU, repeatable."""

    def __init__(self, device, seed):
        self.g = torch.Generator(device=device)
        self.g.manual_seed(seed)
        self.host = torch.Generator()
        self.host.manual_seed(seed + 1)
        self.device = device

    def uniform(self, shape, lo=0.0, hi=1.0):
        return lo + (hi - lo) * torch.rand(shape, generator=self.g, device=self.device)

    def normal(self, shape):
        return torch.randn(shape, generator=self.g, device=self.device)

    def one(self, lo=0.0, hi=1.0):
        return lo + (hi - lo) * torch.rand((), generator=self.host).item()

    def log(self, lo, hi):
        return math.exp(self.one(math.log(lo), math.log(hi)))

    def gauss(self):
        return torch.randn((), generator=self.host).item()

    def chance(self, p):
        return self.one() < p


def boxes(n_out, n_in, pitch, start, device):
    """The n_out × n_in matrix that averages pixels over boxes of `pitch` pixels from `start` on: area-true resampling."""
    edge = start + pitch * torch.arange(n_out + 1, device=device, dtype=torch.float64)
    at = torch.arange(n_in, device=device, dtype=torch.float64)
    lo = torch.maximum(edge[:-1, None], at[None])
    hi = torch.minimum(edge[1:, None], at[None] + 1)
    m = (hi - lo).clamp(min=0)
    return (m / m.sum(1, keepdim=True).clamp(min=1e-9)).float()


def blur(img, sigma):
    """Separable Gaussian blur of B × C × H × W by sigma samples, integrated over each sample; the border is continued."""
    r = int(math.ceil(2.6 * sigma))
    edge = lambda x: math.erf(x / (sigma * math.sqrt(2)))
    k = [edge(i + 0.5) - edge(i - 0.5) for i in range(r + 1)]
    whole = k[0] + 2 * sum(k[1:])
    for dim in (2, 3):
        n = img.shape[dim]
        x = F.pad(img, (0, 0, r, r) if dim == 2 else (r, r, 0, 0), mode="replicate")
        out = x.narrow(dim, r, n) * (k[0] / whole)
        for i in range(1, r + 1):
            out.add_(x.narrow(dim, r - i, n), alpha=k[i] / whole).add_(x.narrow(dim, r + i, n), alpha=k[i] / whole)
        img = out
    return img


def through_lens(img, sigma, kernels):
    """Blurs B × C × H × W by a Gaussian of sigma samples (B) and one kernel a picture (B × k × k, or None) by FFT; the border is continued."""
    r = 20
    x = F.pad(img, (r, r, r, r), mode="replicate")
    h, w = x.shape[2:]
    fy, fx = torch.fft.fftfreq(h, device=img.device), torch.fft.rfftfreq(w, device=img.device)
    otf = torch.exp(-2 * math.pi**2 * sigma[:, None, None] ** 2 * (fy[None, :, None] ** 2 + fx[None, None, :] ** 2)).to(torch.complex64)
    if kernels is not None:
        k = kernels.shape[-1] // 2
        turned = torch.roll(F.pad(kernels, (0, w - 2 * k - 1, 0, h - 2 * k - 1)), (-k, -k), (1, 2))
        otf = otf * torch.fft.rfft2(turned)
    y = torch.fft.irfft2(torch.fft.rfft2(x) * otf[:, None], s=(h, w))
    return y[:, :, r:-r, r:-r]


def out_of_focus(d, b, scale, device):
    """Kernels of discs (defocus), lines (a moved hand) or points, B × k × k; scale: samples per camera pixel, limits in pixels."""
    half = int(2.4 * scale) + 1
    y, x = torch.meshgrid(torch.arange(-half, half + 1, device=device).float(), torch.arange(-half, half + 1, device=device).float(), indexing="ij")
    x, y = x[None], y[None]
    kind = d.uniform((b, 1, 1))
    radius = d.uniform((b, 1, 1), 0.2, 1.9) * scale
    disc = (radius + 0.5 - torch.sqrt(x * x + y * y)).clamp(0, 1)
    turn = d.uniform((b, 1, 1), 0, math.pi)
    along = x * torch.cos(turn) + y * torch.sin(turn)
    across = -x * torch.sin(turn) + y * torch.cos(turn)
    length = d.uniform((b, 1, 1), 0.4, 1.8) * scale
    line = (length + 0.5 - along.abs()).clamp(0, 1) * (1 - across.abs()).clamp(0, 1)
    point = ((x == 0) & (y == 0)).float().expand(b, -1, -1)
    k = torch.where(kind < 0.12, disc, torch.where(kind < 0.24, line, point))
    return k / k.sum((1, 2), keepdim=True)


def quarter(q):
    """The standard's luminance and chrominance tables (ITU-T T.81, annex K) at quality q, as the IJG's library scales them."""
    lum = [16, 11, 10, 16, 24, 40, 51, 61, 12, 12, 14, 19, 26, 58, 60, 55, 14, 13, 16, 24, 40, 57, 69, 56, 14, 17, 22, 29, 51, 87, 80, 62,
           18, 22, 37, 56, 68, 109, 103, 77, 24, 35, 55, 64, 81, 104, 113, 92, 49, 64, 78, 87, 103, 121, 120, 101, 72, 92, 95, 98, 112, 100, 103, 99]
    chroma = [17, 18, 24, 47, 99, 99, 99, 99, 18, 21, 26, 66, 99, 99, 99, 99, 24, 26, 56, 99, 99, 99, 99, 99, 47, 66, 99, 99, 99, 99, 99, 99]
    chroma += [99] * 32
    s = 5000 / q if q < 50 else 200 - 2 * q
    table = lambda t: torch.tensor([max(1, min(255, (v * s + 50) // 100)) for v in t]).reshape(8, 8).float()
    return table(lum), table(chroma)


_dct = {}


def dct_matrix(device):
    if device not in _dct:
        k = torch.arange(8).float()
        m = torch.cos((2 * k[None] + 1) * k[:, None] * math.pi / 16) * 0.5
        m[0] /= math.sqrt(2)
        _dct[device] = m.to(device)
    return _dct[device]


def blocks_coded(x, table):
    """Quantises B × H × W, multiples of 8, values 0 to 255, block by block."""
    b, h, w = x.shape
    m = dct_matrix(x.device)

    def both_ways(y, m):
        y = m @ y.reshape(b, h // 8, 8, w)
        return (y.reshape(-1, 8) @ m.T).reshape(b, h, w)

    y = both_ways(x - 128, m)
    table = table.repeat(h // 8, w // 8)
    return both_ways(torch.round(y / table) * table, m.T.contiguous()) + 128


def jpeg(img, quality, halved):
    """B × 3 × H × W codes 0 to 255 through baseline JPEG; halved: chroma at half size each way, as phones write it."""
    b, _, h, w = img.shape
    ph, pw = -h % 16, -w % 16
    x = F.pad(img, (0, pw, 0, ph), mode="replicate")
    r, g, bl = x[:, 0], x[:, 1], x[:, 2]
    y = 0.299 * r + 0.587 * g + 0.114 * bl
    cb = 128 - 0.168736 * r - 0.331264 * g + 0.5 * bl
    cr = 128 + 0.5 * r - 0.418688 * g - 0.081312 * bl
    lum, chroma = (t.to(img.device) for t in quarter(quality))
    y = blocks_coded(torch.round(y), lum)
    c = torch.stack([cb, cr], 1)
    if halved:
        c = F.avg_pool2d(c, 2)
    c = blocks_coded(torch.round(c).flatten(0, 1), chroma).clamp(0, 255).reshape(c.shape)
    if halved:
        c = F.interpolate(c, scale_factor=2, mode="bilinear", align_corners=False)
    cb, cr = c[:, 0] - 128, c[:, 1] - 128
    out = torch.stack([y + 1.402 * cr, y - 0.344136 * cb - 0.714136 * cr, y + 1.772 * cb], 1)
    return torch.round(out).clamp(0, 255)[:, :, :h, :w]


def tone_curve(d):
    """A phone's curve on linear light, 0 to 1 each way, as a function: an S, a lift of the dark, a shoulder."""
    if d.chance(0.45):
        return lambda v: v
    gamma, s, lift = d.log(0.8, 1.25), d.one(-0.25, 0.6), d.one(0, 0.012) * d.chance(0.3)

    def curve(v):
        e = from_linear(v.clamp(0, 1)) ** gamma
        e = e + s * (e - 0.5) * e * (1 - e) * 2
        return to_linear(lift + (1 - lift) * e.clamp(0, 1))

    return curve


def straightener(curve, white, d, device):
    """What the program does about the curve (vision/scene/tone.go): straight lines between the card's greys as they were seen, roots of light taken on both
    axes. white: the light of the card's paper, 1 for full scale. Returns the function and the paper's light as seen."""
    nominal = INK_BLACK + (1 - INK_BLACK) * to_linear(torch.tensor(GREYS, device=device) / 255.0)
    printed = nominal ** (1 + 0.04 * d.gauss()) * (1 + torch.tensor(INK, device=device) * d.normal(nominal.shape))
    seen = curve((white * printed).clamp(max=1.0))
    paper = seen[0]
    x = torch.cat([seen.new_zeros(1), (seen / paper).clamp(min=1e-6).sqrt().flip(0)])
    y = torch.cat([seen.new_zeros(1), nominal.sqrt().flip(0)])
    x = torch.cummax(x + 1e-5 * torch.arange(len(x), device=device), 0).values

    def straight(v):
        v = (v / paper).clamp(min=0).sqrt()
        i = torch.searchsorted(x, v.contiguous(), right=True).clamp(1, len(x) - 1)
        x0, x1, y0, y1 = x[i - 1], x[i], y[i - 1], y[i]
        return (y0 + (v - x0) * (y1 - y0) / (x1 - x0)).clamp(min=0) ** 2

    return straight


def grain(d, b, side, scales, strength):
    """Noise on several scales (cells across the picture), B × 1 × side × side; strength draws how strong each scale is in each picture."""
    total = 0
    for cells in scales:
        noise = F.interpolate(d.normal((b, 1, cells, cells)), size=(side, side), mode="bilinear", align_corners=False)
        total = total + noise * strength()
    return total


def other_ground(light, thing, d, part, most):
    """That part of the drawings gets a ground of another colour, up to most octaves lighter or darker, and what is measured on it a slightly other light: there are
    more media than are drawn. light: B × 3 × S × S; thing: B × 1 × S × S, the share that is not ground."""
    b = light.shape[0]
    some = (d.uniform((b, 1, 1, 1)) < part).float()
    warm = 0.25 * d.normal((b, 1, 1, 1)).clamp(-2, 2)
    tint = torch.cat([warm, torch.zeros_like(warm), -1.3 * warm], 1) + 0.05 * d.normal((b, 3, 1, 1))
    octaves = d.uniform((b, 1, 1, 1), -most, most)
    mean = (light * (1 - thing)).mean((1, 2, 3), keepdim=True) / (1 - thing).mean((1, 2, 3), keepdim=True).clamp(min=0.02)
    octaves = torch.minimum(octaves, torch.log2(0.7 / mean.clamp(min=1e-3)).clamp(min=0))  # no lighter than paper
    ground = torch.exp(some * (math.log(2) * octaves + tint))
    own = torch.exp(some * 0.15 * d.normal((b, 1, 1, 1)))
    return light * (thing * own + (1 - thing) * ground)


def soils(d, b, side):
    """Grounds that no style draws: sand, loam, clay, gravel, from nearly black to nearly paper, with clods, cracks and stones. Light, B × 3 × side × side."""
    def some(lo, hi, part=1.0):
        return d.uniform((b, 1, 1, 1), lo, hi) * d.uniform((b, 1, 1, 1)).lt(part)

    def tint(strength):
        warm = d.uniform((b, 1, 1, 1), -0.15, 0.55) * strength  # most soils are brown; some are grey or bluish
        return torch.cat([warm, torch.zeros_like(warm), -1.3 * warm], 1) + 0.05 * d.normal((b, 3, 1, 1))

    level = d.uniform((b, 1, 1, 1), math.log(0.015), math.log(0.75))
    patches = torch.sigmoid(grain(d, b, side, (6, 24, 90), lambda: some(0.5, 2.5)))
    own = tint(1.0)
    log = level + own + patches * (tint(0.6) - 0.6 * own + some(-0.7, 0.7))
    log = log + grain(d, b, side, (40, 160, 480, side), lambda: some(0, 0.45))
    for cells in (20, 60, 150):
        lumps = grain(d, b, side, (cells, 2 * cells), lambda: 1.0)
        log = log - some(0.3, 2.0, 0.3) * torch.exp(-((lumps / 0.12) ** 2))  # cracks, and shade between clods
        log = log + some(-1.5, 1.2, 0.3) * torch.sigmoid((lumps - some(1.0, 2.5)) * 8)  # stones and clods, lighter or darker
    return torch.exp(log).clamp(max=1.3)


def stones(d, b, n, cells, device):
    """Clods, chips and stones, one in most cells of a grid of cells × cells: their height in texels and a number each, 0 to 1, 0 where there is none, B × 1 × n × n."""
    size = n / cells
    i = (torch.arange(n, device=device) + 0.5) / size
    y, x = (v.expand(b, n, n) for v in (i[None, :, None], i[None, None, :]))
    middle = d.uniform((b, 2, cells, cells), 0.0, 1.0)
    # half axes and turn of each, none where too small
    wide = torch.exp(d.uniform((b, 1, cells, cells), math.log(0.12), math.log(0.75)))
    narrow = wide * d.uniform((b, 1, cells, cells), 0.4, 1.0)
    turn = d.uniform((b, 1, cells, cells), 0, 2 * math.pi)
    own = torch.cat([middle, wide, narrow, torch.cos(turn), torch.sin(turn), d.uniform((b, 1, cells, cells), 0.02, 1.0), d.uniform((b, 1, 1, 1), 0.3, 1.1).expand(b, 1, cells, cells)], 1)
    height, number = torch.zeros((b, n, n), device=device), torch.zeros((b, n, n), device=device)
    at = (y.long() * cells + x.long()).reshape(b, 1, -1)
    for dy in (-1, 0, 1):
        for dx in (-1, 0, 1):
            v = torch.roll(own, (-dy, -dx), (2, 3)).reshape(b, 8, -1).gather(2, at.expand(b, 8, -1)).reshape(b, 8, n, n)
            ox, oy = x - torch.floor(x) - dx - v[:, 0], y - torch.floor(y) - dy - v[:, 1]
            across, along = (ox * v[:, 4] + oy * v[:, 5]) / v[:, 2], (-ox * v[:, 5] + oy * v[:, 4]) / v[:, 3]
            here = v[:, 7] * v[:, 3] * size * (1 - across * across - along * along).clamp(min=0).sqrt()
            number = torch.where(here > height, v[:, 6], number)
            height = torch.maximum(height, here)
    return height[:, None], number[:, None]


def rough(d, b, n, device):
    """Heights of rough ground in texels: crumbs and clods without a size of their own, and stones; and which stone lies where. B × 1 × n × n each."""
    fy, fx = torch.fft.fftfreq(n, device=device)[:, None], torch.fft.rfftfreq(n, device=device)[None]
    largest = torch.exp(d.uniform((b, 1, 1, 1), math.log(8.0), math.log(120.0)))
    power = d.uniform((b, 1, 1, 1), 1.8, 3.2)
    height = torch.fft.irfft2(torch.fft.rfft2(d.normal((b, 1, n, n))) * ((fx * fx + fy * fy)[None, None] + largest**-2) ** (-power / 2), s=(n, n))
    height = height / height.std((1, 2, 3), keepdim=True)
    height = torch.where(d.uniform((b, 1, 1, 1)) < 0.5, -1.6 * (height * height + 0.02).sqrt(), height)  # in half of them round tops with crevices between
    slope = ((height - torch.roll(height, 1, 3)) ** 2 + (height - torch.roll(height, 1, 2)) ** 2).mean((1, 2, 3), keepdim=True).sqrt()
    height = height * torch.exp(d.uniform((b, 1, 1, 1), math.log(0.1), 0.0)) / slope.clamp(min=1e-6)
    stone, number = stones(d, b, n, int(d.log(6, 90)), device)
    there = d.uniform((b, 1, 1, 1)).lt(0.6)
    return height + stone * there, number * there


def sunlit(d, b, side, above):
    """Rough ground under a sun: clods and stones are light on one side, and they and what grows above (B × 1 × side × side, a share) shade what lies behind them.
    Returns how much of the sun's light falls on each texel (1 on level ground) and which stone lies there, B × 1 × side × side each."""
    dev, n = above.device, side // 2
    height, number = rough(d, b, n, dev)
    gx, gy = torch.roll(height, -1, 3) - height, torch.roll(height, -1, 2) - height
    way, up = d.uniform((b, 1, 1, 1), 0, 2 * math.pi), d.uniform((b, 1, 1, 1), math.radians(18), math.radians(75))
    ex, ey = torch.cos(way), torch.sin(way)  # towards the sun
    light = ((torch.sin(up) - torch.cos(up) * (gx * ex + gy * ey)) / (1 + gx * gx + gy * gy).sqrt() / torch.sin(up)).clamp(0, 2.5)
    i = (torch.arange(n, device=dev) + 0.5) * 2 / n - 1
    grid = torch.stack(torch.broadcast_tensors(i[None, :], i[:, None]), -1)[None]
    step = torch.cat([ex, ey], 1).reshape(b, 1, 1, 2) * 2 / n

    def towards(x, texels):
        return F.grid_sample(x, grid + step * texels, mode="bilinear", padding_mode="border" if dev.type == "cpu" else "reflection", align_corners=False)

    hidden = torch.zeros_like(height)
    for k in (1.5, 2.5, 4, 6, 9, 13, 19, 28, 40):
        hidden = torch.maximum(hidden, towards(height, k) - height - k * torch.tan(up))
    sun = light * torch.exp(-hidden / 0.4)
    leaf = F.avg_pool2d(above, 2)
    tall = torch.exp(d.uniform((b, 1, 1, 1), math.log(3.0), math.log(70.0))) / torch.tan(up)
    for part in (0.5, 1.0):  # leaves hang at more than one height
        sun = sun * (1 - d.uniform((b, 1, 1, 1), 0.3, 1.0) * towards(leaf, (part * tall).reshape(b, 1, 1, 1)))
    full = lambda v, mode: F.interpolate(v, size=(side, side), mode=mode)
    return full(sun, "bilinear"), full(number, "nearest")


def on_soil(light, leaf, d, part, sunny=0.6):
    """That part of the drawings lies on another ground (`soils`): some `sunny`, as rough ground is in the sun, half of the others with the shade and grain of their own;
    leaves may be up to e^0.9 times darker than they are drawn, since on pale ground they are the darker ones. light: B × 3 × S × S; leaf: B × 1 × S × S, the
    share that is not ground."""
    b, _, s, _ = light.shape
    some = (d.uniform((b, 1, 1, 1)) < part).float()
    mean = (light * (1 - leaf)).sum((1, 2, 3), keepdim=True) / (3 * (1 - leaf).sum((1, 2, 3), keepdim=True)).clamp(min=1.0)
    shade = (light.mean(1, keepdim=True) / mean.clamp(min=1e-3)).clamp(0.1, 2.0) ** (0.7 * d.uniform((b, 1, 1, 1)).lt(0.5))
    sun, stone = sunlit(d, b, s, leaf)
    sky = d.uniform((b, 1, 1, 1), 0.08, 0.6)  # the part of the light that fills shadows
    blue = torch.exp(d.uniform((b, 1, 1, 1), 0, 0.4) * light.new_tensor([-0.6, 0.0, 0.6])[None, :, None, None])
    kinds = torch.exp(d.uniform((b, 1, 1, 1), 0, 1.2) * (stone - 0.5) * (stone > 0))  # stones are not all equally light
    shade = torch.where(d.uniform((b, 1, 1, 1)) < sunny, (sky * blue + (1 - sky) * sun) * kinds, shade)
    own = torch.exp(-d.uniform((b, 1, 1, 1), -0.2, 0.9) * d.uniform((b, 1, 1, 1)).lt(0.7))
    there = light * leaf * own + (1 - leaf) * (soils(d, b, s) * shade).clamp(max=1.5)
    return torch.where(some > 0, there, light)


def lit(light, d, per_mm):
    """Uneven light: a slope, and in some pictures the edge of a shadow, tinted a little."""
    b, _, h, w = light.shape
    dev = light.device
    y, x = torch.meshgrid(torch.linspace(-1, 1, h, device=dev), torch.linspace(-1, 1, w, device=dev), indexing="ij")
    turn = d.uniform((b, 1, 1), 0, 2 * math.pi)
    slope = (x * torch.cos(turn) + y * torch.sin(turn)) * d.uniform((b, 1, 1), 0, 0.2)
    gain = torch.exp(slope)[:, None].expand(b, 3, h, w).clone()
    turn = d.uniform((b, 1, 1), 0, 2 * math.pi)
    bend = d.uniform((b, 1, 1), -0.6, 0.6)
    across = -x * torch.sin(turn) + y * torch.cos(turn)
    at = x * torch.cos(turn) + y * torch.sin(turn) + bend * across * across - d.uniform((b, 1, 1), -0.9, 0.9)
    soft = torch.exp(d.uniform((b, 1, 1), math.log(0.01), math.log(0.6)))
    dark = d.uniform((b, 1, 1, 1), 0.02, 0.8) * (d.uniform((b, 1, 1, 1)) < 0.25)
    lamps = torch.where(d.uniform((b, 1, 1, 1)) < 0.3, 0.25, 0.05)  # in shadow the sky lights, or another lamp does
    tint = torch.exp(lamps * d.normal((b, 3, 1, 1)))
    part = torch.sigmoid(4 * at / soft)[:, None]
    return light * gain * (1 - part + part * (1 - dark) * torch.where(dark > 0, tint, 1.0))


def sampled(x, m, shift, step, n, per_mm, mode="bilinear"):
    """Reads B × C × S × S texels at n × n points step mm apart along the columns of m (B × 2 × 2, unit vectors), centred shift mm (B × 2) off the middle."""
    b, _, s, _ = x.shape
    i = (torch.arange(n[0], device=x.device) - (n[0] - 1) / 2) * step[0]
    j = (torch.arange(n[1], device=x.device) - (n[1] - 1) / 2) * step[1]
    jj, ii = torch.meshgrid(j, i, indexing="ij")
    p = torch.stack([ii, jj], -1).reshape(1, -1, 2) @ m.transpose(1, 2) + shift[:, None]
    grid = (p * per_mm * 2 / s).reshape(b, n[1], n[0], 2)
    return F.grid_sample(x, grid, mode=mode, padding_mode="border" if x.device.type == "cpu" else "reflection", align_corners=False)


def geometry(d, b, device, reach):
    """Turns and mirrors at random; what a tilted camera leaves is a little shear. B × 2 × 2, and shifts B × 2 in mm."""
    turn = d.uniform((b,), 0, 2 * math.pi)
    side = torch.where(d.uniform((b,)) < 0.5, 1.0, -1.0)
    shear = 0.05 * d.normal((b,)).clamp(-2, 2)
    e1 = torch.stack([torch.cos(turn), torch.sin(turn)], -1)
    t2 = turn + side * (math.pi / 2 + shear)
    e2 = torch.stack([torch.cos(t2), torch.sin(t2)], -1)
    return torch.stack([e1, e2], -1), d.uniform((b, 2), -reach, reach)


STRIP = 64  # camera pixels: how wide the card's edges are photographed beside the close-up
SLANT = math.tan(math.radians(5))


def edges(h, ss, dev):
    """The card's slanted edges at ss samples a camera pixel, 1 × 1 × h·ss × STRIP·ss: an upright one above, a level one below, dark on the left and below."""
    y, x = torch.meshgrid((torch.arange(h * ss, device=dev) + 0.5) / ss, (torch.arange(STRIP * ss, device=dev) + 0.5) / ss, indexing="ij")
    upright = x - STRIP / 2 - (y - h / 4) * SLANT
    level = -(y - 3 * h / 4 - (x - STRIP / 2) * SLANT)
    d = torch.where(y < h / 2, upright, level) * ss
    return (INK_BLACK + (1 - INK_BLACK) * (d + 0.5).clamp(0, 1))[None, None]


_bins = {}


def half_contrast(strip):
    """The frequency in cycles per pixel at which contrast has fallen to half (ISO 12233, as vision/scene/sharpness.go reads it): strip B × h × STRIP of light."""
    b, h, w = strip.shape
    dev = strip.device
    if (h, str(dev)) not in _bins:
        y, x = torch.meshgrid(torch.arange(h, device=dev) + 0.5, torch.arange(w, device=dev) + 0.5, indexing="ij")
        cos = 1 / math.sqrt(1 + SLANT * SLANT)
        both = []
        for lo, hi, d in ((0, h // 2, x - w / 2 - (y - h / 4) * SLANT), (h // 2, h, -(y - 3 * h / 4 - (x - w / 2) * SLANT))):
            k = torch.floor(d * cos / 0.25).long() + 64
            use = (y > lo + 8) & (y < hi - 8) & (k >= 0) & (k < 128)
            m = torch.zeros((128, h * w), device=dev)
            at = torch.nonzero(use.flatten())[:, 0]
            m[k.flatten()[at], at] = 1
            both.append(m / m.sum(1, keepdim=True).clamp(min=1))
        f = torch.arange(1, 200, device=dev) * 0.005
        turn = 2 * math.pi * f[:, None] * 0.25 * torch.arange(127, device=dev)[None]
        _bins[(h, str(dev))] = both, f, torch.cos(turn), torch.sin(turn)
    both, f, cos, sin = _bins[(h, str(dev))]
    found = []
    for m in both:
        spread = (strip.reshape(b, -1) @ m.T).diff(dim=1)
        mass = spread.clamp(min=0)
        i = torch.arange(127, device=dev)
        centre = (mass * i).sum(1, keepdim=True) / mass.sum(1, keepdim=True).clamp(min=1e-6)
        off = (i - centre) / 127
        spread = spread * torch.where(off.abs() > 0.5, 0.0, 0.54 + 0.46 * torch.cos(2 * math.pi * off))
        modulus = torch.sqrt((spread @ cos.T) ** 2 + (spread @ sin.T) ** 2) / torch.sinc(f * 0.25) ** 2
        modulus = modulus / spread.sum(1, keepdim=True).clamp(min=1e-6)
        below = modulus <= 0.5
        first = torch.where(below.any(1), below.float().argmax(1), torch.full((b,), len(f) - 1, device=dev))
        found.append(f[first])
    return (found[0] + found[1]) / 2


def exposed(fine, d, q, ss, b, dev, per_mm):
    """Linear light at ss samples per camera pixel each way → what the program makes of the phone's file: straightened light, paper 1, and the blur in mm
    that it reads off the card's edges (B). The close-up has been blurred a little by its texels, per_mm of them a mm; the card is drawn as sharp."""
    mm_blur = d.log(0.05, 0.22)
    sigma = (mm_blur * q * torch.exp(0.25 * d.normal((b,)))).clamp(0.3, 3.5) * ss
    kernels = out_of_focus(d, b, ss, dev) if d.chance(0.5) else None
    fine = through_lens(fine, sigma, kernels)
    texel = 0.5 / per_mm * q * ss  # samples: a texel's mean has a deviation of √(1/12) texels, reading between texels √(1/6)
    strip = through_lens(edges(fine.shape[2] // ss, ss, dev).expand(b, 1, -1, -1), (sigma**2 + texel**2).sqrt(), kernels)
    c, strip = (F.avg_pool2d(v, ss) if ss > 1 else v for v in (fine, strip))

    paper = d.log(0.45, 1.0) if d.chance(0.8) else d.log(0.25, 1.5)  # light of the card's paper, full scale 1
    level = torch.where(d.uniform((b, 1, 1, 1)) < 0.15, torch.exp(d.uniform((b, 1, 1, 1), math.log(0.3), 0.3)), torch.ones(1, device=dev))
    here = level * torch.exp(0.12 * d.normal((b, 1, 1, 1)))
    gains = torch.exp(0.12 * d.normal((3,)))
    gains = gains / gains.max()
    lamps = torch.where(d.uniform((b, 1, 1, 1)) < 0.12, 0.1, 0.025)  # the lamp over the plug is not quite the card's, and now and then quite another
    lamps = torch.exp(lamps * d.normal((b, 3, 1, 1)))
    white = paper * gains
    c = (torch.cat([c * here * lamps, strip.expand(-1, 3, -1, -1)], 3) * white[None, :, None, None]).clamp(min=0)
    c = tone_mapped(c, d)
    iso = d.log(0.3, 3.0)
    noise = d.normal(c.shape) * torch.sqrt((0.008 * iso) ** 2 * c.clamp(max=1.2) + (0.0012 * iso) ** 2)
    grain = d.one(0, 0.8)
    if grain > 0.3:  # noise after demosaicing hangs together over neighbours
        noise = blur(noise, grain) * (1 + 1.6 * grain)
    c = (c + noise).clamp(0, 1)

    curve = tone_curve(d)
    straight = [straightener(curve, white[k], d, dev) for k in range(3)]
    seen = to_linear(filed(from_linear(curve(c)), d))
    c = torch.stack([straight[k](seen[:, k]) for k in range(3)], 1)
    n = c.shape[3] - STRIP
    return c[:, :, :, :n], 0.1874 / half_contrast(c[:, 1, :, n:]) / q


def blur_plane(blur, like):
    """How the networks are told of the blur: a plane of its logarithm over a usual one's."""
    return torch.log(blur.clamp(0.03, 0.5) / 0.12)[:, None, None, None].expand(-1, 1, like.shape[2], like.shape[3])


def tone_mapped(c, d):
    """Local tone mapping: the dark is lifted and the bright held down, neighbourhood by neighbourhood."""
    if not d.chance(0.3):
        return c
    b = c.shape[0]
    y = (c * c.new_tensor([0.2126, 0.7152, 0.0722])[None, :, None, None]).sum(1, keepdim=True).clamp(min=0.003).log()
    near = F.avg_pool2d(y, 8, ceil_mode=True)
    near = blur(near, d.one(1.5, 5.0))
    near = F.interpolate(near, size=y.shape[2:], mode="bilinear", align_corners=False)
    k = d.uniform((b, 1, 1, 1), 0, 0.3)
    return c * torch.exp(-k * (near - math.log(0.15)) * 0.6 + k * 0.5 * (y - near))


def filed(code, d):
    """Codes 0 to 1 through saturation, noise smoothing, sharpening, 8 bits and JPEG."""
    b, dev = code.shape[0], code.device
    if d.chance(0.35):  # saturation, about luma
        sat = d.uniform((b, 1, 1, 1), 0.7, 1.7)
        luma = (code * code.new_tensor([0.299, 0.587, 0.114])[None, :, None, None]).sum(1, keepdim=True)
        code = (luma + (code - luma) * sat).clamp(0, 1)
    if d.chance(0.5):  # noise smoothing: flat places are smoothed, edges kept
        soft = blur(code, d.one(0.6, 1.3))
        edge = d.log(0.01, 0.06)
        keep = 1 - torch.exp(-(((code - soft) / edge) ** 2).mean(1, keepdim=True))
        code = soft + (code - soft) * keep
    if d.chance(0.6):  # sharpening
        soft = blur(code, d.one(0.6, 1.6))
        code = code + (code - soft) * d.uniform((b, 1, 1, 1), 0.1, 1.2)
    code = torch.round(code.clamp(0, 1) * 255)
    quality = int(d.one(75, 98)) if d.chance(0.7) else int(d.one(50, 98))
    return jpeg(code, quality, d.chance(0.8)) / 255


def whole(n):
    """Few sizes of pictures, so that what is planned for one serves again."""
    return 32 * math.ceil(n / 32)


SCALES = [3.0, 3.3, 3.7, 4.1, 4.5, 5.0, 5.5, 6.0, 6.5, 7.1, 7.8, 8.6, 10.0, 12.6]  # camera px per mm


def scale(d, most=12.6):
    """A camera's px per mm: mostly what phones of 8 to 24 megapixels make of a tray."""
    return min(most, SCALES[int(d.one(0, 11.5) if d.chance(0.85) else d.one(0, len(SCALES)))])


def photograph(light, maps, d, q, mm, side):
    """Photographs close-ups and prepares the photo as the program prepares roots: along the camera's own pixels.

    light: B × 3 × S × S, linear, paper 1; maps: list of B × C × S × S label maps in amounts per texel area (shares or densities).
    q: camera px per mm; mm: (texels per mm, prepared px per mm); side: prepared pixels each way.
    Returns prepared B × 3 × side × side (roots of light, paper 1), the label maps at the prepared scale (means over each prepared pixel), and the blur read
    off the card in mm (B).
    """
    per_mm, out = mm
    b, dev = light.shape[0], light.device
    m, shift = geometry(d, b, dev, 0.4)
    qx, qy = q * (1 + 0.04 * d.gauss()), q * (1 + 0.04 * d.gauss())
    nx, ny = whole(side / out * qx + 4), whole(side / out * qy + 4)

    light = lit(light, d, per_mm)
    ss = max(1, min(3, round(per_mm / q)))
    c, blurred = exposed(sampled(light, m, shift, (1 / qx / ss, 1 / qy / ss), (nx * ss, ny * ss), per_mm), d, (qx + qy) / 2, ss, b, dev, per_mm)
    phase = d.one(), d.one()
    rx = boxes(side, nx, qx / out, (nx - side / out * qx) / 2 + phase[0] - 0.5, dev)
    ry = boxes(side, ny, qy / out, (ny - side / out * qy) / 2 + phase[1] - 0.5, dev)
    x = (ry @ c @ rx.T).clamp(0, 2.25).sqrt()

    # The prepared grid lies (phase − ½) camera pixels off the middle.
    off = torch.tensor([(phase[0] - 0.5) / qx, (phase[1] - 0.5) / qy], device=dev)
    at = shift + (m @ off[None, :, None])[:, :, 0]
    fine = 2
    labels = []
    for t in maps:
        y = sampled(t, m, at, (1 / out / fine, 1 / out / fine), (side * fine, side * fine), per_mm)
        labels.append(F.avg_pool2d(y, fine))
    return x, labels, blurred


def photograph_flat(light, maps, classes, at, d, q, mm, side):
    """Photographs close-ups and prepares the photo as the program prepares leaves: brought into the tray's own frame.

    light: B × 3 × S × S; maps: list of label maps as for photograph; classes: B × C × S × S of numbers that must not be mixed (read at the nearest texel);
    at: B × 2, the middle of what is prepared, mm from the middle of the close-up; q, mm, side as for photograph.
    Each prepared pixel is the mean of n × n camera pixels nearest to as many points in it, n enough that none is passed over. Returns prepared, maps, classes,
    the geometry (B × 2 × 2 axes of the prepared frame in the close-up's, quarter turns and mirrors with a little misfit), and the blur as photograph does.
    """
    per_mm, out = mm
    b, dev = light.shape[0], light.device
    quarter = torch.floor(d.uniform((b,), 0, 4)) * (math.pi / 2) + 0.006 * d.normal((b,))
    mirror = torch.where(d.uniform((b,)) < 0.5, 1.0, -1.0)
    axis = lambda t: torch.stack([torch.cos(t), torch.sin(t)], -1)
    frame = torch.stack([axis(quarter), axis(quarter + mirror * math.pi / 2)], -1)
    m, _ = geometry(d, b, dev, 0.0)
    along = d.chance(0.75)
    if along:  # most trays lie along the picture's edge
        turn = torch.floor(d.uniform((b,), 0, 4)) * (math.pi / 2) + 0.05 * d.normal((b,))
        m = torch.stack([axis(turn), axis(turn + mirror * math.pi / 2)], -1)
    qx, qy = q * (1 + 0.03 * d.gauss()), q * (1 + 0.03 * d.gauss())
    reach = side / out * (1.12 if along else 1.42)  # so that the prepared square is in the picture
    nx, ny = whole(reach * qx), whole(reach * qy)

    light = lit(light, d, per_mm)
    ss = max(1, min(2, round(per_mm / q)))
    c, blurred = exposed(sampled(light, m, at, (1 / qx / ss, 1 / qy / ss), (nx * ss, ny * ss), per_mm), d, (qx + qy) / 2, ss, b, dev, per_mm)
    n = max(1, math.ceil(q / out))
    # from the prepared frame to camera pixels: the close-up's mm, then along the camera's axes
    to_camera = torch.linalg.inv(m) @ frame
    i = (torch.arange(side * n, device=dev) - (side * n - 1) / 2) / (out * n)
    jj, ii = torch.meshgrid(i, i, indexing="ij")
    p = torch.stack([ii, jj], -1).reshape(1, -1, 2) @ to_camera.transpose(1, 2)
    p = p * torch.tensor([2 * qx / nx, 2 * qy / ny], device=dev)
    x = F.grid_sample(c, p.reshape(b, side * n, side * n, 2), mode="nearest", padding_mode="border", align_corners=False)
    x = F.avg_pool2d(x, n).clamp(0, 2.25).sqrt()

    fine = 2
    labels = [F.avg_pool2d(sampled(t, frame, at, (1 / out / fine, 1 / out / fine), (side * fine, side * fine), per_mm), fine) for t in maps]
    kinds = sampled(classes, frame, at, (1 / out, 1 / out), (side, side), per_mm, mode="nearest")
    return x, labels, kinds, frame, blurred
