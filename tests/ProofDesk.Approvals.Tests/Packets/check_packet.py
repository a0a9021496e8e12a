"""A second verifier of a packet, written from README.txt of the packet and the public formats alone.

Uses only Python's standard library; Ed25519 is the slow textbook form of RFC 8032 section 5.1.
Usage: check_packet.py PACKET.zip KEY      prints "valid" or the first thing that is wrong; exit code 0 or 1.
"""

import base64
import hashlib
import json
import sys
import zipfile

P = 2**255 - 19
L = 2**252 + 27742317777372353535851937790883648493
D = -121665 * pow(121666, P - 2, P) % P
ROOT = pow(2, (P - 1) // 4, P)


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


def point(data):
    y = int.from_bytes(data, "little")
    sign, y = y >> 255, y & (2**255 - 1)
    xx = (y * y - 1) * pow(D * y * y + 1, P - 2, P) % P
    x = pow(xx, (P + 3) // 8, P)
    if (x * x - xx) % P:
        x = x * ROOT % P
    if (x * x - xx) % P:
        raise ValueError("no point of the curve")
    x = P - x if x & 1 != sign else x
    return (x, y, 1, x * y % P)


BASE = point((4 * pow(5, P - 2, P) % P).to_bytes(32, "little"))


def signed(key, text, signature):
    r, s = signature[:32], int.from_bytes(signature[32:], "little")
    h = int.from_bytes(hashlib.sha512(r + key + text).digest(), "little") % L
    left, right = times(s, BASE), add(point(r), times(h, point(key)))
    return s < L and (left[0] * right[2] - right[0] * left[2]) % P == 0 and (left[1] * right[2] - right[1] * left[2]) % P == 0


def sha256(data):
    return hashlib.sha256(data).digest()


def root_of(index, size, leaf, path):
    """The root that this path leads to; recursive as RFC 6962 section 2.1.1 defines PATH."""
    if size == 1:
        assert not path, "the path is too long"
        return leaf
    split = 1 << ((size - 1).bit_length() - 1)
    if index < split:
        return sha256(b"\x01" + root_of(index, split, leaf, path[:-1]) + path[-1])
    return sha256(b"\x01" + path[-1] + root_of(index - split, size - split, leaf, path[:-1]))


def check_proof(text, kind, digest, vkey):
    top, checkpoint = text.split("\n\n", 1)
    lines = top.split("\n")
    assert lines[0] == "c2sp.org/tlog-proof@v1", "not a proof"
    index = int(lines[1].removeprefix("index "))
    path = [base64.b64decode(line) for line in lines[2:]]
    body, signatures = checkpoint.rsplit("\n\n", 1)
    body += "\n"
    name, key_id, typed = vkey.split("+", 2)
    key = base64.b64decode(typed)[1:]
    assert sha256(name.encode() + b"\n\x01" + key)[:4].hex() == key_id, "the key id does not fit the key"
    lines = [line.split(" ") for line in signatures.strip("\n").split("\n")]
    mine = [base64.b64decode(line[2]) for line in lines if line[0] == "\u2014" and line[1] == name]
    mine = [line[4:] for line in mine if line[:4].hex() == key_id]
    assert mine and all(signed(key, body.encode(), line) for line in mine), "the checkpoint is not signed by this key"
    origin, size, root = body.split("\n")[:3]
    assert origin == name, "the log has another name"
    leaf = sha256(b"\x00" + f"proofdesk-leaf/1\n{kind}\nsha256:{digest}".encode())
    assert root_of(index, int(size), leaf, path) == base64.b64decode(root), f"the {kind} is not in the log"


def canonical(data):
    value = json.loads(data)
    assert json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode() == data, "not canonical"
    return value


def check(path, vkey):
    with zipfile.ZipFile(path) as packet:
        assert packet.testzip() is None, "a check sum does not fit"
        data = {name: packet.read(name) for name in packet.namelist()}
    manifest, statement = canonical(data["data/manifest.json"]), canonical(data["data/statement.json"])
    digest = hashlib.sha256(data["data/manifest.json"]).hexdigest()
    assert statement["manifest"] == f"sha256:{digest}", "the statement is about another manifest"
    bound = {"data/files/" + file["path"]: file for file in manifest["files"]}
    assert {name for name in data if name.startswith("data/files/")} == set(bound), "files too many or too few"
    for name, file in bound.items():
        assert len(data[name]) == file["bytes"], f"{name} has another size"
        assert hashlib.sha256(data[name]).hexdigest() == file["sha256"], f"{name} has another SHA-256"
        assert hashlib.sha512(data[name]).hexdigest() == file["sha512"], f"{name} has another SHA-512"
    text = "sha256:" + hashlib.sha256(data[f"data/statement-text.{statement['locale']}.txt"]).hexdigest()
    assert text == statement["statementText"] == manifest["statementTexts"][statement["locale"]], "other sentences"
    assert statement["decision"] != "approve" or all(statement["confirmed"].values()), "not all was confirmed"
    check_proof(data["proofs/freeze.tlog-proof"].decode(), "freeze", digest, vkey)
    said = hashlib.sha256(data["data/statement.json"]).hexdigest()
    check_proof(data["proofs/decision.tlog-proof"].decode(), "decision", said, vkey)


if __name__ == "__main__":
    try:
        check(sys.argv[1], sys.argv[2])
    except (AssertionError, ValueError, KeyError, zipfile.BadZipFile) as wrong:
        print(wrong)
        sys.exit(1)
    print("valid")
