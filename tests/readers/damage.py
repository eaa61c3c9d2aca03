"""Damages a press file in one way after another and asks whether the rules see it. Prints what was seen."""

import sys

import damages
import pikepdf
import rules


def main(path, damaged, standard="PDF/X-4"):
    flat = standard != "PDF/X-4"
    for rule, damage in damages.FLAT if flat else damages.ALL:
        with pikepdf.open(path) as pdf:
            on_bytes = damage(pdf)
            version = "1.4" if flat else "1.6"
            objects = pikepdf.ObjectStreamMode.disable
            lock = on_bytes is damages.locked
            if lock:
                kept = dict(encryption=pikepdf.Encryption(owner="locked", user="", R=4))
            else:
                # Streams stay as they are: decoding them would mend some of the damage.
                kept = dict(static_id=True, stream_decode_level=pikepdf.StreamDecodeLevel.none, compress_streams=False)
            pdf.save(damaged, force_version=version, object_stream_mode=objects, **kept)
        if on_bytes and not lock:
            with open(damaged, "rb") as file:
                whole = file.read()
            changed = on_bytes(whole)
            if changed == whole:
                sys.exit(f"the damage to {rule!r} changes nothing")
            with open(damaged, "wb") as file:
                file.write(changed)
        try:
            rules.main(damaged, standard)
        except SystemExit as refusal:
            if str(refusal.code).split(":")[0] != rule:
                sys.exit(f"damage to {rule!r} is reported as {refusal.code!r}")
            print("seen:", rule)
        else:
            sys.exit(f"damage to {rule!r} passes unseen")
    if not flat:
        unproved = asked_rules() - {rule for rule, _ in damages.ALL + damages.FLAT}
        if unproved:
            sys.exit(f"no damage proves {sorted(unproved)}")


def asked_rules():
    """Every rule that the scripts ask, by name."""
    import pathlib
    import re

    scripts = pathlib.Path(__file__).parent.glob("rules*.py")
    return {name for script in scripts for name in re.findall(r'require\(\s*"([^"]+)"', script.read_text())}


if __name__ == "__main__":
    main(*sys.argv[1:])
