#!/usr/bin/env python3
"""pack.py FOLDER FILE: the files of a folder, shortest first, in one: of each its length, a line feed, its bytes, a line feed.
To keep the pack small, without those longer than LONGEST bytes: most are a shorter one with a padding. tests/fuzz/plain_main.cpp runs them."""
import os
import sys

LONGEST = 2500

folder, packed = sys.argv[1:3]
inputs = []
for name in os.listdir(folder):
    with open(os.path.join(folder, name), "rb") as file:
        inputs.append(file.read())
inputs = [one for one in inputs if len(one) <= LONGEST]
inputs.sort(key=lambda one: (len(one), one))
with open(packed, "wb") as file:
    for one in inputs:
        file.write(b"%d\n%s\n" % (len(one), one))
print("%s: %d inputs, %d bytes" % (packed, len(inputs), os.path.getsize(packed)))
