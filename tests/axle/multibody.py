"""The same linkages in a general multibody library (mujoco): rods, arms and wishbones as bodies with joints.

Nothing of ours is used but the points. The axle hangs on six joints, of which height and roll are driven;
links are bodies of their own, tied to frame and axle; damped motion is followed until it is at rest.
"""

import math

import mujoco
import numpy as np

MM = 1e-3
STIFF = 'solref="0.004 1" solimp="0.9995 0.9999 0.0001"'


def text(point):
    return " ".join(f"{c:.17g}" for c in point)


def _rod(name, frame, axle):
    return (
        f'<body name="{name}" pos="{text(frame)}"><joint type="ball" damping="0.2"/>'
        f'<geom type="capsule" fromto="0 0 0 {text(axle - frame)}" size="0.01" mass="1"/></body>'
    )


def _wishbone(name, one, other, tip):
    hinge = (other - one) / np.linalg.norm(other - one)
    return (
        f'<body name="{name}" pos="{text(one)}"><joint type="hinge" axis="{text(hinge)}" damping="0.2"/>'
        f'<geom type="capsule" fromto="0 0 0 {text(tip - one)}" size="0.01" mass="1"/></body>'
    )


def model_of(linkage):
    """The library's model; lengths in metres, origin at the axle centre of ride height."""
    stance = linkage.stance
    bodies, ties = [], []
    done = set()
    for link in linkage.links:
        frame = MM * (np.array(link.frame.point) - stance.origin)
        axle = MM * (stance.rotation @ stance.in_axle(link.axle))
        if link.part == "rod":
            bodies.append(_rod(link.name, frame, axle))
            anchor = axle - frame
            ties.append(f'<connect body1="{link.name}" body2="axle" anchor="{text(anchor)}" {STIFF}/>')
        elif link.body not in done:
            done.add(link.body)
            fellow = next(k for k in linkage.links if k.body == link.body and k is not link)
            if link.part == "wishbone":
                other = MM * (np.array(fellow.frame.point) - stance.origin)
                bodies.append(_wishbone(link.body, frame, other, axle))
                ties.append(f'<connect body1="{link.body}" body2="axle" anchor="{text(axle - frame)}" {STIFF}/>')
            elif "arm-pivot" not in done:
                # an arm is one with the axle; arms that meet in one pivot are one body held there
                done.add("arm-pivot")
                ties.append(f'<connect body1="axle" body2="world" anchor="{text(frame)}" {STIFF}/>')
    joints = "".join(
        f'<joint name="{name}" type="{kind}" axis="{axis}" damping="{damping}" armature="1"/>'
        for name, kind, axis, damping in (
            ("x", "slide", "1 0 0", 3000),
            ("y", "slide", "0 1 0", 3000),
            ("z", "slide", "0 0 1", 3000),
            ("yaw", "hinge", "0 0 1", 500),
            ("roll", "hinge", "1 0 0", 500),
            ("pitch", "hinge", "0 1 0", 500),
        )
    )
    driven = "".join(f'<joint joint1="{j}" polycoef="0 0 0 0 0" {STIFF}/>' for j in ("z", "roll"))
    return f"""<mujoco><compiler angle="radian"/>
<option gravity="0 0 0" timestep="0.002" integrator="implicitfast" solver="Newton" iterations="100" tolerance="1e-14">
<flag contact="disable"/></option>
<worldbody><body name="axle">{joints}<geom type="capsule" fromto="0 -0.7 0 0 0.7 0" size="0.05" mass="100"/></body>
{"".join(bodies)}</worldbody>
<equality>{"".join(ties)}{driven}</equality></mujoco>"""


def rest_poses(linkage, poses, ramp=400, settle=3000):
    """Axle centre less that at ride [mm] and rotation against ride, once for each (heave [mm], roll [deg])."""
    model = mujoco.MjModel.from_xml_string(model_of(linkage))
    axle = mujoco.mj_name2id(model, mujoco.mjtObj.mjOBJ_BODY, "axle")
    out = []
    for heave, roll in poses:
        data = mujoco.MjData(model)
        for k in range(ramp + settle):
            part = min(1.0, (k + 1) / ramp)
            model.eq_data[-2, 0], model.eq_data[-1, 0] = part * heave * MM, part * math.radians(roll)
            mujoco.mj_step(model, data)
            if k > ramp and float(np.abs(data.qvel).max()) < 1e-9:
                break
        out.append((data.xpos[axle] / MM, data.xmat[axle].reshape(3, 3).copy(), float(np.abs(data.qvel).max())))
    return out
