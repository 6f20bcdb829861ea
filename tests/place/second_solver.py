#!/usr/bin/env python3
"""The exported top problem has the same linear optimum for another solver (Debian's coinor-cbc).

use: second_solver.py TOP_PROBLEM ORDER FOLDER
"""
import pathlib
import re
import shutil
import subprocess
import sys

program, order, folder = sys.argv[1:4]
if not shutil.which("cbc"):
    print("cbc is not here; skipped")
    sys.exit(77)
for ending in ("lp", "mps"):
    path = pathlib.Path(folder) / ("top." + ending)
    ours = float(subprocess.run([program, order, str(path)], check=True, capture_output=True,
                                text=True).stdout)
    said = subprocess.run(["cbc", str(path), "-max", "-initialSolve", "-quit"], check=True,
                          capture_output=True, text=True).stdout
    found = re.findall(r"Optimal objective\s+(\S+)", said) or re.findall(
        r"objective value\s+(\S+)", said)
    assert found, said
    theirs = abs(float(found[-1]))
    print(ending, ours, theirs)
    if abs(ours - theirs) > 1e-6 * max(1, ours):
        sys.exit("%s: the solvers differ: %.9g and %.9g" % (path, ours, theirs))
