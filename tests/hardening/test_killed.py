"""Killed at a random moment, an action leaves the old file or the new one, never half of one."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SAMPLE = ROOT / "sample_svgs" / "lantern.svg"

#: Writes two large contents in turn over and over, until it is killed.
WRITER = """
import sys
sys.path.insert(0, sys.argv[1])
from underlit_host.files import write_all
pair = [bytes([65 + i]) * 8_000_000 for i in range(2)]
print("begins", flush=True)
while True:
    for data in pair:
        write_all({sys.argv[2]: data})
"""

pytestmark = pytest.mark.skipif(os.name != "posix", reason="kills by a POSIX signal")


@pytest.mark.parametrize("seed", range(12))
def test_while_writing(tmp_path: Path, seed: int) -> None:
    target = tmp_path / "card.svg"
    target.write_bytes(b"B" * 8_000_000)
    command = [sys.executable, "-c", WRITER, str(ROOT / "extension"), str(target)]
    with subprocess.Popen(command, stdout=subprocess.PIPE) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == b"begins\n"
        time.sleep(random.Random(seed).uniform(0.0, 0.15))
        process.send_signal(signal.SIGKILL)
        process.wait(timeout=30)
    found = target.read_bytes()
    assert len(found) == 8_000_000
    assert len(set(found)) == 1


def test_at_any_moment_of_a_run(tmp_path: Path) -> None:
    """Twelve moments from the start of a run to its end; at least one run must finish."""
    target = tmp_path / "out.svg"
    script = str(ROOT / "extension" / "validate_card.py")
    command = [sys.executable, script, str(SAMPLE), "--output", str(target)]
    began = time.monotonic()
    subprocess.run(command, check=True, capture_output=True, timeout=60)
    whole, new = time.monotonic() - began, target.read_bytes()
    rng, finished = random.Random(7), 0
    for moment in [rng.uniform(0.2, 1.2) for _ in range(11)] + [30.0]:
        target.write_bytes(b"old")
        with subprocess.Popen(command, stdout=subprocess.DEVNULL) as process:
            try:
                process.wait(timeout=moment * whole)
            except subprocess.TimeoutExpired:
                process.kill()
        assert target.read_bytes() in (b"old", new)
        finished += target.read_bytes() == new
    assert finished
