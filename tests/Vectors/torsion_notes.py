"""Makes notes.json: notes signed by keys, nonces and numbers that verifiers are known to judge differently.

The curve has eight times as many points as its group of prime order. A key or a nonce with a part outside that group, a number S not
below the group's order, and a point written in a second way pass some verifiers and not others. Ours refuse all of them. Textbook
RFC 8032 section 5.1, standard library only:   python3 torsion_notes.py >notes.json
"""

import base64
import hashlib
import json

P = 2**255 - 19
L = 2**252 + 27742317777372353535851937790883648493
D = -121665 * pow(121666, P - 2, P) % P
ROOT = pow(2, (P - 1) // 4, P)
NAME = "torsion.example/log"
TEXT = b"torsion.example/log\n1\n" + base64.b64encode(bytes(32)) + b"\n"


def add(p, q):
    a, b = (p[1] - p[0]) * (q[1] - q[0]) % P, (p[1] + p[0]) * (q[1] + q[0]) % P
    c, d = 2 * p[3] * q[3] * D % P, 2 * p[2] * q[2] % P
    e, f, g, h = b - a, d - c, d + c, b + a
    return (e * f % P, g * h % P, f * g % P, e * h % P)


def times(n, p):
    q = (0, 1, 1, 0)
    while n:
        if n & 1:
            q = add(q, p)
        p, n = add(p, p), n >> 1
    return q


def point(y, sign):
    xx = (y * y - 1) * pow(D * y * y + 1, P - 2, P) % P
    x = pow(xx, (P + 3) // 8, P)
    if (x * x - xx) % P:
        x = x * ROOT % P
    if (x * x - xx) % P:
        return None
    x = P - x if x & 1 != sign else x
    return (x, y, 1, x * y % P)


def written(p):
    z = pow(p[2], P - 2, P)
    return (p[1] * z % P | (p[0] * z % P & 1) << 255).to_bytes(32, "little")


BASE = point(4 * pow(5, P - 2, P) % P, 0)
# Whatever L times any point is has an order that divides 8; this one has order 8.
EIGHTH = next(t for y in range(2, 99) if (p := point(y, 0)) and written(times(4, t := times(L, p))) != written((0, 1, 1, 0)))
SMALL = [times(i, EIGHTH) for i in range(8)]


def number(*parts):
    return int.from_bytes(hashlib.sha512(b"".join(parts)).digest(), "little")


def note(key, signature):
    typed = b"\x01" + key
    key_id = hashlib.sha256(NAME.encode() + b"\n" + typed).digest()[:4]
    line = base64.b64encode(key_id + signature).decode()
    vkey = f"{NAME}+{key_id.hex()}+{base64.b64encode(typed).decode()}"
    return vkey, f"{TEXT.decode()}\n\u2014 {NAME} {line}\n"


def signed(key, a, wanted, nonce_part=(0, 1, 1, 0), more=0):
    """With the secret a behind the written key; the nonce is searched until the challenge modulo 8 is as wanted."""
    for i in range(10_000):
        r = number(b"nonce", key, bytes([i % 256, i // 256])) % L
        nonce = written(add(times(r, BASE), nonce_part))
        h = number(nonce, key, TEXT) % L
        if wanted(h % 8):
            return nonce + ((r + h * a) % L + more).to_bytes(32, "little")
    raise AssertionError


def main():
    a = number(b"an honest secret") % L
    honest = written(times(a, BASE))
    zero, other, either = (lambda h: h == 0), (lambda h: h != 0), (lambda h: True)
    made = [("an honest key", True, honest, signed(honest, a, either))]
    for i, small in enumerate(SMALL):
        key = written(small)
        made.append((f"a key of small order, {i} of 8", False, key, signed(key, 0, zero)))
    for what, y, sign in [("1 + p", 1 + P, 0), ("1 + p with a sign", 1 + P, 1), ("1 with a sign", 1, 1), ("p", P, 0), ("p with a sign", P, 1), ("-1 with a sign", P - 1, 1)]:
        key = (y | sign << 255).to_bytes(32, "little")
        made.append((f"a key of small order written a second way, {what}", False, key, signed(key, 0, zero)))
    for i in (1, 2, 4):
        key = written(add(times(a, BASE), SMALL[i]))
        made.append((f"a key of mixed order, part {i}, challenge divisible by 8", False, key, signed(key, a, zero)))
        made.append((f"a key of mixed order, part {i}, challenge not divisible by 8", False, key, signed(key, a, lambda h: h * i % 8 != 0)))
        made.append((f"an honest key, a nonce of mixed order, part {i}", False, honest, signed(honest, a, either, SMALL[i])))
    for i in (0, 1, 4):
        nonce = written(SMALL[i])
        h = number(nonce, honest, TEXT) % L
        made.append((f"an honest key, a nonce of small order, {i} of 8", False, honest, nonce + (h * a % L).to_bytes(32, "little")))
    made.append(("an honest key, S + L", False, honest, signed(honest, a, either, more=L)))
    made.append(("an honest key, S + 8 L", False, honest, signed(honest, a, either, more=8 * L)))
    made.append(("an honest key, S of another signature", False, honest, signed(honest, a, either)[:32] + signed(honest, a, zero)[32:][::-1]))
    made.append(("a key that is no point", False, (2).to_bytes(32, "little") if point(2, 0) is None else (7).to_bytes(32, "little"), signed(honest, a, either)))
    entries = []
    for name, valid, key, signature in made:
        vkey, text = note(key, signature)
        entries.append({"name": name, "valid": valid, "key": vkey, "note": text})
    print(json.dumps(entries, indent=2, ensure_ascii=False))


main()
