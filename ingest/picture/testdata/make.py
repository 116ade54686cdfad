"""Makes the pictures of these tests, all of them invented, by Pillow 9.4 (python3-pil): another program than ours
stores each and says how it looks upright. python3 make.py FOLDER"""
import sys, os, io, struct, zlib
from PIL import Image, ImageOps, ImageDraw
out = sys.argv[1]  # a folder
# an asymmetric invented test picture, 48 x 32: four colored corners, a bar, a wedge
def scene(w=48, h=32):
    m = Image.new("RGB", (w, h), (120, 120, 120))
    d = ImageDraw.Draw(m)
    d.rectangle([0, 0, w//2-1, h//2-1], fill=(200, 40, 40))
    d.rectangle([w//2, 0, w-1, h//2-1], fill=(40, 180, 60))
    d.rectangle([0, h//2, w//2-1, h-1], fill=(50, 70, 200))
    d.rectangle([w//2, h//2, w-1, h-1], fill=(230, 210, 60))
    d.rectangle([0, 0, w//6, h-1], fill=(250, 250, 250))
    d.rectangle([0, 0, w-1, h//8], fill=(10, 10, 10))
    return m
up = scene()
up.save(os.path.join(out, "upright.png"))
# stored so that turning by the tag gives `up`: inverse ops by PIL, independent of ours
T = Image.Transpose
inv = {1: None, 2: T.FLIP_LEFT_RIGHT, 3: T.ROTATE_180, 4: T.FLIP_TOP_BOTTOM, 5: T.TRANSPOSE, 6: T.ROTATE_90, 7: T.TRANSVERSE, 8: T.ROTATE_270}
def exif(o, gps=False, taken=None):
    e = Image.Exif()
    e[0x0112] = o
    if taken:
        e[0x8769] = {0x9003: taken}
    if gps:
        e[0x8825] = {1: "N", 2: (33.0, 27.0, 0.5), 3: "W", 4: (112.0, 4.0, 30.0)}
    return e
for o in range(1, 9):
    s = up if inv[o] is None else up.transpose(inv[o])
    e = exif(o)
    s.save(os.path.join(out, f"turned-{o}.jpg"), quality=95, subsampling=0, exif=e)
    s.save(os.path.join(out, f"turned-{o}.png"), exif=e)
    s.save(os.path.join(out, f"turned-{o}.webp"), lossless=True, exif=e.tobytes())
    back = ImageOps.exif_transpose(Image.open(os.path.join(out, f"turned-{o}.png")))
    assert back.tobytes() == up.tobytes(), o
e = exif(6, gps=True, taken="2025:06:03 07:15:09")
e[0x010e] = "<script>alert(1)</script>"
up.transpose(T.ROTATE_90).save(os.path.join(out, "notes.jpg"), quality=95, subsampling=0, exif=e, comment=b"<html><script>alert(2)</script></html>")
up.convert("CMYK").save(os.path.join(out, "cmyk.jpg"), quality=95)
up.convert("L").save(os.path.join(out, "gray.jpg"), quality=95)
up.save(os.path.join(out, "progressive.jpg"), quality=95, progressive=True)
up.save(os.path.join(out, "lossy.webp"), quality=95)
a = up.convert("RGBA"); px = a.load()
for x in range(24):
    for y in range(16): px[x+24, y+16] = (230, 210, 60, 0 if x < 12 else 128)
a.save(os.path.join(out, "clear.png")); a.save(os.path.join(out, "clear.webp"), quality=95); 
white = Image.new("RGBA", a.size, "white"); white.alpha_composite(a); white.convert("RGB").save(os.path.join(out, "clear-on-white.png"))
up.convert("P", palette=Image.Palette.ADAPTIVE).save(os.path.join(out, "palette.png"))
# 16-bit RGB PNG by hand (W3C PNG): PIL does not write one
def chunk(t, d): return struct.pack(">I", len(d)) + t + d + struct.pack(">I", zlib.crc32(t + d))
raw = b""
for y in range(32):
    raw += b"\0" + b"".join(struct.pack(">HHH", *(v*257 for v in up.getpixel((x, y)))) for x in range(48))
open(os.path.join(out, "deep.png"), "wb").write(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", 48, 32, 16, 2, 0, 0, 0)) + chunk(b"IDAT", zlib.compress(raw, 9)) + chunk(b"IEND", b""))
up.save(os.path.join(out, "moving.webp"), save_all=True, append_images=[up.transpose(T.ROTATE_180)], duration=100, lossless=True)
# a wide one, reduced by that library's own box filter
big = Image.new("RGB", (4096, 24)); px = big.load()
for x in range(4096):
    for y in range(24): px[x, y] = ((x * 7 + y * 31) % 256, (x // 16 + y * 5) % 256, (x ^ y) % 256)
big.save(os.path.join(out, "wide.png")); big.reduce(2).save(os.path.join(out, "wide-by-2.png"))
