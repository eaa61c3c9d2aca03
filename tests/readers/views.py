"""Views of a book, as other libraries see them.

    views.py project FILE    the largest distance, in pixels, between our corners and those of OpenCV's pinhole camera
    views.py layers STEM     the largest difference between the whole and its layers laid over each other by Pillow
"""

import json
import sys

import numpy as np
from PIL import Image


def project(path):
    import cv2

    worst = 0.0
    for line in open(path, encoding="utf-8"):
        taken = json.loads(line)
        round_, above = np.radians(taken["stand"][:2])
        away = np.array([-np.sin(round_) * np.cos(above), -np.cos(round_) * np.cos(above), np.sin(above)])
        target = np.array(taken["target"])
        eye = target + away * taken["stand"][2]
        forward = -away.copy()
        if taken["level"]:
            forward[2] = 0.0
        forward /= np.linalg.norm(forward)
        right = np.cross(forward, [0.0, 0.0, 1.0])
        right /= np.linalg.norm(right)
        turn = np.stack([right, np.cross(forward, right), forward])
        lens = np.array([[taken["focal"], 0, taken["axis"][0]], [0, taken["focal"], taken["axis"][1]], [0, 0, 1]])
        points, _ = cv2.projectPoints(
            np.array(taken["corners"]), cv2.Rodrigues(turn)[0], -turn @ eye, lens.astype(float), None
        )
        worst = max(worst, float(np.abs(points[:, 0, :] - np.array(taken["pixels"])).max()))
    print(worst)


def layers(stem):
    part = lambda name: Image.open(f"{stem}{name}.png").convert("RGBA")
    laid = part("-ground")
    for name in ["-shadow", "-mirror", "-book"]:
        laid.alpha_composite(part(name))
    whole = part("")
    assert all(part(name).size == whole.size for name in ["-ground", "-shadow", "-mirror", "-book"])
    difference = np.abs(np.asarray(laid).astype(int) - np.asarray(whole).astype(int))
    print(difference[..., :3][np.asarray(whole)[..., 3] > 0].max())


{"project": project, "layers": layers}[sys.argv[1]](sys.argv[2])
