"""A wheel that holds the program, for people who have Python and not Rust: `wheel.py PROGRAM VERSION FOLDER`.

Written by the rules of the binary distribution format (packaging.python.org, PEP 427), with nothing but the standard library:
a program in the `scripts` of a wheel is put on the path with its right to run.
"""

import base64
import hashlib
import os
import pathlib
import platform
import sys
import time
import zipfile

program, version, folder = sys.argv[1:]
root = pathlib.Path(__file__).resolve().parents[2]
# The program is linked statically: it asks nothing of the libraries of a Linux.
tag = f"py3-none-manylinux2014_{platform.machine()}.musllinux_1_1_{platform.machine()}"
info = f"rotorbook-{version}.dist-info"
readme = (root / "README.md").read_text(encoding="utf-8")
files = {
    f"rotorbook-{version}.data/scripts/rotorbook": (pathlib.Path(program).read_bytes(), 0o755),
    f"{info}/METADATA": (
        (
            f"Metadata-Version: 2.1\nName: rotorbook\nVersion: {version}\n"
            "Summary: A text format, checker and language server for rotor-balancing setup sheets\n"
            "License: MIT OR Apache-2.0\nDescription-Content-Type: text/markdown\n\n" + readme
        ).encode(),
        0o644,
    ),
    f"{info}/WHEEL": (
        (
            "Wheel-Version: 1.0\nGenerator: rotorbook\nRoot-Is-Purelib: false\n"
            + "".join(f"Tag: py3-none-{one}\n" for one in tag.removeprefix("py3-none-").split("."))
        ).encode(),
        0o644,
    ),
}
for name in ("LICENSE-APACHE", "LICENSE-MIT"):
    files[f"{info}/licenses/{name}"] = ((root / name).read_bytes(), 0o644)
record = []
path = pathlib.Path(folder) / f"rotorbook-{version}-{tag}.whl"
day = time.gmtime(max(int(os.environ.get("SOURCE_DATE_EPOCH", time.time())), 315532800))[:6]
with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as wheel:

    def put(name, data, mode):
        entry = zipfile.ZipInfo(name, day)
        entry.compress_type = zipfile.ZIP_DEFLATED
        entry.external_attr = (0o100000 | mode) << 16
        wheel.writestr(entry, data)

    for name, (data, mode) in files.items():
        digest = base64.urlsafe_b64encode(hashlib.sha256(data).digest()).rstrip(b"=").decode()
        record.append(f"{name},sha256={digest},{len(data)}")
        put(name, data, mode)
    record.append(f"{info}/RECORD,,")
    put(f"{info}/RECORD", ("\n".join(record) + "\n").encode(), 0o644)
print(path)
