"""The hash tree of RFC 6962 section 2.1 exactly as its recursive definitions read: MTH, PATH, PROOF.

Prints one SHA-256 over every root, every inclusion proof and every consistency proof of all trees of 1 to N leaves
(leaf i is i as four little-endian bytes), in the order of the loops at the end.
"""

import functools
import hashlib
import sys


def sha256(data):
    return hashlib.sha256(data).digest()


def split(n):
    """The largest power of two smaller than n."""
    k = 1
    while k * 2 < n:
        k *= 2
    return k


@functools.cache
def mth(low, high):
    if high - low == 1:
        return sha256(b"\x00" + low.to_bytes(4, "little"))
    k = split(high - low)
    return sha256(b"\x01" + mth(low, low + k) + mth(low + k, high))


def path(m, low, high):
    n = high - low
    if n == 1:
        return []
    k = split(n)
    if m < k:
        return path(m, low, low + k) + [mth(low + k, high)]
    return path(m - k, low + k, high) + [mth(low, low + k)]


def subproof(m, low, high, whole):
    n = high - low
    if m == n:
        return [] if whole else [mth(low, high)]
    k = split(n)
    if m <= k:
        return subproof(m, low, low + k, whole) + [mth(low + k, high)]
    return subproof(m - k, low + k, high, False) + [mth(low, low + k)]


everything = hashlib.sha256()
for size in range(1, int(sys.argv[1]) + 1):
    everything.update(mth(0, size))
    for index in range(size):
        everything.update(b"".join(path(index, 0, size)))
    for old in range(1, size + 1):
        everything.update(b"".join(subproof(old, 0, size, True)))
print(everything.hexdigest())
