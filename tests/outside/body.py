"""The body against MuJoCo: every landmark, the centre of mass, the moments at the joints, and what carries a held pose.

MuJoCo gets the body from the segments that `layfigure body` prints: for each its parent, where it hangs, the axes about
which it turns, its mass and centre of mass. What we say of a pose is then held against what MuJoCo makes of it.

Hinges are MuJoCo's own. The shoulder hangs on the girdle but is turned against the chest, by a swing and a twist:
MuJoCo gets a ball joint there, whose quaternion is worked out here by SciPy's rotations, `girdle⁻¹ · chest · exp(swing) ·
twist`. How the ball turns when a clinical angle grows, and when the girdle or the chest moves below it, is taken from that
quaternion by central differences; it turns MuJoCo's forces at the ball's three speeds into moments at our coordinates.

Moments are MuJoCo's bias force without speed, less what the same outer forces do through MuJoCo's own Jacobians.
For the catalog's key poses the pelvis' six speeds show whether the forces that we say do hold the body, and SciPy's NNLS
looks for others that hold it with less effort. Differences are shares of stature, or of body weight × stature.

    body.py                 500 poses of each kind of body, and all key poses of the catalog
    body.py --poses N --seed K
    body.py --time          how long poses take to place, here and in MuJoCo
"""

import argparse
import json
import os
import subprocess
import sys
import time

import mujoco
import numpy as np
from scipy.optimize import nnls
from scipy.spatial.transform import Rotation

KINDS = ["adult", "older", "child", "broad", "pregnant"]
BOUND = 1e-6
STEP = 1e-6
# What is left of balance counts with its square over twice this: as in crate/src/solve/share.rs.
SLACK = 1e-8
passed = failed = 0


def check(what, good, detail=""):
    global passed, failed
    if good:
        passed += 1
    else:
        failed += 1
        print(f"FAILED: {what} {detail}")


def ours(*words):
    program = os.environ.get("LAYFIGURE", "target/debug/layfigure")
    return json.loads(subprocess.run([program, "body", *words], capture_output=True, text=True, check=True).stdout)


class Model:
    """The body in MuJoCo, built from the segments alone."""

    def __init__(self, said):
        self.stature = said["stature"]
        self.coordinates = len(said["coordinates"])
        self.segments = said["segments"]
        children = {}
        for segment in self.segments:
            children.setdefault(segment["parent"], []).append(segment)
        # Gravity of 1 makes forces shares of body weight. Nothing moves, so inertia says nothing; MuJoCo wants some, and
        # a mass for every segment: a billionth of a billionth changes no digit that is looked at.
        numbers = lambda v: " ".join(repr(float(x)) for x in v)

        def element(segment):
            joint = segment["joint"]
            out = f'<body name="{segment["name"]}" pos="{numbers(segment["offset"])}">'
            if segment["parent"] is None:
                out += '<freejoint name="root"/>'
            elif "against" in joint:
                out += f'<joint name="{segment["name"]}" type="ball"/>'
            else:
                for hinge in joint["hinges"]:
                    out += f'<joint name="{hinge["coordinate"]}" type="hinge" axis="{numbers(hinge["axis"])}"/>'
            mass = max(segment["mass"], 1e-14)
            out += f'<inertial pos="{numbers(segment["com"])}" mass="{mass!r}" diaginertia="1e-3 1e-3 1e-3"/>'
            return out + "".join(element(child) for child in children.get(segment["name"], [])) + "</body>"

        (root,) = children[None]
        self.model = mujoco.MjModel.from_xml_string(
            '<mujoco><compiler angle="radian" autolimits="false"/><option gravity="0 -1 0"/>'
            f"<worldbody>{element(root)}</worldbody></mujoco>"
        )
        self.data = mujoco.MjData(self.model)
        self.body = {s["name"]: self.model.body(s["name"]).id for s in self.segments}
        self.hinges = []  # coordinate, place in qpos, place in qvel
        self.balls = []
        for segment in self.segments:
            joint = segment["joint"]
            if segment["parent"] is None:
                continue
            if "against" in joint:
                j = self.model.joint(segment["name"])
                self.balls.append((segment, int(j.qposadr[0]), int(j.dofadr[0])))
            else:
                for hinge in joint["hinges"]:
                    j = self.model.joint(str(hinge["coordinate"]))
                    self.hinges.append((hinge["coordinate"], int(j.qposadr[0]), int(j.dofadr[0])))
        said_of = {s["name"]: s for s in self.segments}
        self.between = {}
        for segment, _, _ in self.balls:
            # The joints from the segment that the ball is turned against to the one that it hangs on.
            chain, at = [], segment["parent"]
            while at != segment["joint"]["against"]:
                chain.append(said_of[at])
                at = said_of[at]["parent"]
            self.between[segment["name"]] = chain[::-1]

    def ball(self, segment, angles):
        """The ball's rotation for these angles (radians)."""
        joint = segment["joint"]
        girdle = Rotation.identity()
        for link in self.between[segment["name"]]:
            for hinge in link["joint"]["hinges"]:
                girdle = girdle * Rotation.from_rotvec(np.array(hinge["axis"]) * angles[hinge["coordinate"]])
        swing = sum(np.array(part["axis"]) * angles[part["coordinate"]] for part in joint["swing"])
        twist = np.array(joint["twist"]["axis"]) * angles[joint["twist"]["coordinate"]]
        return girdle.inv() * Rotation.from_rotvec(swing) * Rotation.from_rotvec(twist)

    def moving(self, angles):
        """How MuJoCo's speeds follow from those of our coordinates: a matrix of speeds by coordinates, without the root."""
        out = np.zeros((self.model.nv, self.coordinates))
        for coordinate, _, speed in self.hinges:
            out[speed, coordinate] = 1.0
        for segment, _, speed in self.balls:
            joint = segment["joint"]
            own = [part["coordinate"] for part in joint["swing"]] + [joint["twist"]["coordinate"]]
            for link in self.between[segment["name"]]:
                own += [hinge["coordinate"] for hinge in link["joint"]["hinges"]]
            for coordinate in own:
                up, down = angles.copy(), angles.copy()
                up[coordinate] += STEP
                down[coordinate] -= STEP
                # MuJoCo's ball turns about its own axes.
                turned = (self.ball(segment, down).inv() * self.ball(segment, up)).as_rotvec() / (2 * STEP)
                out[speed : speed + 3, coordinate] = turned
        return out

    def place(self, pose):
        angles = np.radians(np.array(pose["angles"]))
        q = self.data.qpos
        q[0:3] = pose["root"]
        q[3:7] = Rotation.from_matrix(np.array(pose["turn"])).as_quat(scalar_first=True)
        for coordinate, at, _ in self.hinges:
            q[at] = angles[coordinate]
        for segment, at, _ in self.balls:
            q[at : at + 4] = self.ball(segment, angles).as_quat(scalar_first=True)
        self.data.qvel[:] = 0.0
        mujoco.mj_fwdPosition(self.model, self.data)
        mujoco.mj_fwdVelocity(self.model, self.data)
        return angles

    def points(self, landmarks):
        ids = np.array([self.body[mark["segment"]] for mark in landmarks])
        at = np.array([mark["at"] for mark in landmarks])
        turns = self.data.xmat.reshape(-1, 3, 3)[ids]
        return self.data.xpos[ids] + np.einsum("nij,nj->ni", turns, at)

    def through(self, segment, at):
        """MuJoCo's Jacobian of a point of the room that is fixed to the segment."""
        jacobian = np.zeros((3, self.model.nv))
        mujoco.mj_jac(self.model, self.data, jacobian, None, np.array(at, dtype=float), self.body[segment])
        return jacobian


def kind_of_body(kind, count, seed):
    said = ours("--body", kind, "--poses", str(count), "--seed", str(seed), "--catalog")
    model = Model(said)
    h = model.stature
    whole = sum(s["mass"] for s in said["segments"])
    check(f"{kind}: the masses make one body", abs(whole - 1) < 1e-12, whole)
    worst = {"landmark": (0.0, ""), "centre of mass": (0.0, ""), "moment": (0.0, ""), "moment with forces": (0.0, "")}

    def note(what, off, where):
        if worst[what][0] < off:
            worst[what] = (off, where)

    unheld, easier, held, toppling = (0.0, ""), (0.0, ""), 0, []
    for pose in said["poses"]:
        angles = model.place(pose)
        off = np.linalg.norm(model.points(said["landmarks"]) - np.array(pose["landmarks"]), axis=1) / h
        at = int(off.argmax())
        note("landmark", off[at], f"{said['landmarks'][at]['name']}, pose {pose['name']}")
        off = np.linalg.norm(model.data.subtree_com[1] - np.array(pose["centre_of_mass"])) / h
        note("centre of mass", off, f"pose {pose['name']}")
        bias = model.data.qfrc_bias.copy()
        outer = bias.copy()
        for f in pose["forces"]:
            outer -= model.through(f["segment"], f["at"]).T @ np.array(f["force"])
        moving = model.moving(angles)
        for what, force, moments in [
            ("moment", bias, pose["gravity_moments"]),
            ("moment with forces", outer, pose["moments"]),
        ]:
            off = np.abs(moving.T @ force / h - np.array(moments))
            at = int(off.argmax())
            note(what, off[at], f"{said['coordinates'][at]}, pose {pose['name']}")
        if "pushes" in pose:
            # The pelvis' speeds belong to no muscle: at rest nothing is left there.
            left = np.abs(outer[:3]).max(), np.abs(outer[3:6]).max() / h
            balanced = max(pose["unbalanced"]) < 1e-5
            check(f"{kind}, {pose['name']}: balanced as said", (max(left) < 2e-5) == balanced, (left, pose["unbalanced"]))
            if balanced and unheld[0] < max(left):
                unheld = (max(left), pose["name"])
            held += balanced
            if not balanced:
                toppling.append(pose["name"])
            more = effort(model, pose, bias, moving) if pose["pushes"] else 0.0
            if easier[0] < more:
                easier = (more, pose["name"])
    for what, (off, where) in worst.items():
        print(f"{kind}: {what} differs by at most {off:.1e} ({where})")
        check(f"{kind}: {what}", off < BOUND, off)
    print(f"{kind}: {held} key poses held; at most {unheld[0]:.1e} is left over ({unheld[1]})")
    print(f"{kind}: can't be held by what carries in them: {', '.join(toppling) or 'none'}")
    print(f"{kind}: NNLS holds them with at most {easier[0]:.1e} less effort ({easier[1]})")
    check(f"{kind}: forces of least effort", easier[0] < 1e-6, easier)
    check(f"{kind}: poses", 0 < held and len(said["poses"]) > count)


def effort(model, pose, bias, moving):
    """How much more effort ours is than what NNLS finds: squares of moments and of priced pushes, balance kept heavily."""
    h = model.stature
    pushes = pose["pushes"]
    columns = [model.through(p["segment"], p["at"]).T @ np.array(p["along"]) for p in pushes]
    columns = np.array(columns).T
    centre = np.array(pose["centre_of_mass"])
    wrench = np.array(
        [np.r_[p["along"], np.cross(np.array(p["at"]) - centre, p["along"]) / h] for p in pushes]
    ).T
    weight = np.r_[0, 1, 0, 0, 0, 0]
    heavy = 1 / np.sqrt(SLACK)
    a = np.r_[heavy * wrench, moving.T @ columns / h, np.diag(np.sqrt([p["price"] for p in pushes]))]
    b = np.r_[heavy * weight, moving.T @ bias / h, np.zeros(len(pushes))]
    return np.sum((a @ push_by_push(pose) - b) ** 2) - nnls(a, b)[1] ** 2


def push_by_push(pose):
    """Our forces are said support by support: taken apart again into a support's own push and what friction adds."""
    out, i = np.zeros(len(pose["pushes"])), 0
    for force in pose["forces"]:
        left = np.array(force["force"], dtype=float)
        while i < len(out) and pose["pushes"][i]["at"] == force["at"]:
            along = np.array(pose["pushes"][i]["along"])
            out[i] = max(0.0, left @ along)
            left = left - out[i] * along
            i += 1
    return out


def timed(count, seed):
    """Placing the body and its centre of mass, here and in MuJoCo, one after the other in one run."""
    said = ours("--poses", str(count), "--seed", str(seed), "--time")
    model = Model(said)
    qs = []
    for pose in said["poses"]:
        model.place(pose)
        qs.append(model.data.qpos.copy())
    m, d = model.model, model.data
    best = float("inf")
    for _ in range(20):
        start = time.perf_counter()
        for q in qs:
            d.qpos[:] = q
            mujoco.mj_kinematics(m, d)
            mujoco.mj_comPos(m, d)
        best = min(best, time.perf_counter() - start)
    mine, theirs = said["seconds_for_poses"] / count * 1e6, best / count * 1e6
    print(
        f"place a body with its centre of mass: {mine:.2f} µs here, {theirs:.2f} µs in MuJoCo (called from Python), "
        f"ratio {mine / theirs:.2f}"
    )


words = argparse.ArgumentParser()
words.add_argument("--poses", type=int, default=500)
words.add_argument("--seed", type=int, default=20261130)
words.add_argument("--time", action="store_true")
given = words.parse_args()
if given.time:
    timed(given.poses, given.seed)
    sys.exit(0)
for kind in KINDS:
    kind_of_body(kind, given.poses, given.seed)
timed(given.poses, given.seed)
print(f"{passed} passed, {failed} failed")
sys.exit(1 if failed or not passed else 0)
