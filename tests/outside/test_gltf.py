"""The glTF validator is run, passes a right model and finds a wrong one."""

import subprocess
import tempfile
import unittest
from pathlib import Path

import synth

HERE = Path(__file__).parent / "gltf"


def validate(*paths):
    """Exit code and words of the validator."""
    run = subprocess.run(["node", str(HERE / "validate.mjs"), *map(str, paths)], capture_output=True, text=True, check=False)
    return run.returncode, run.stdout + run.stderr


@unittest.skipUnless((HERE / "node_modules").is_dir(), "tests/run installs the validator first")
class Gltf(unittest.TestCase):
    """gltf-validator 2.0.0-dev.3.10 by the format's own body."""

    def test_right_and_wrong_models(self):
        scene = synth.corner()
        with tempfile.TemporaryDirectory() as folder:
            good, bad, pack = (Path(folder) / n for n in ("good.glb", "bad.glb", "pack.zip"))
            good.write_bytes(synth.glb_bytes(scene))
            # one digit of the upper bound changed: ACCESSOR_MAX_MISMATCH
            data = bytearray(synth.glb_bytes(scene))
            spot = data.index(b'"max": [0.') + len(b'"max": [0.')
            data[spot] = ord("9") if data[spot] != ord("9") else ord("8")
            bad.write_bytes(data)
            pack.write_bytes(synth.package(scene))
            self.assertEqual(validate(good, pack)[0], 0, validate(good, pack)[1])
            code, said = validate(bad)
            self.assertEqual(code, 1, said)
            self.assertIn("ACCESSOR_MAX_MISMATCH", said)


if __name__ == "__main__":
    unittest.main()
