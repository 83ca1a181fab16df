"""Heat exchange of surfaces of revolution with each other, with the coil and with the room.

Radiation: every ring of the surfaces sends out rays (grey, diffuse), which are followed from surface to surface
until one absorbs them or they leave. Nothing is assumed of who sees whom; round turns are polygons of revolution.
Air: natural convection at outward walls and ends, still air in the gap between a body and the one round it.
Sources: S. W. Churchill, H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1323, vertical plate; C. O. Popiel et
al., Exp. Therm. Fluid Sci. 32 (2007) 607, slender cylinders; McAdams 1954, plates (all from memory). Air at 1 atm
by power laws of temperature through textbook values at 300, 600 and 1000 K (from memory).
"""

import numpy as np

SIGMA = 5.670374419e-8
GRAVITY = 9.80665
SIDES = 12  # of the polygon that stands for a round turn
RAYS = 4000  # of each ring
RING = 2.5e-3  # height of a ring at most [m]
NEAR = 1e-9  # a ray does not meet the surface it starts from


class Strip:
    """A surface of revolution over a straight line from a to b (r, z); the open side lies to its right."""

    def __init__(self, a, b, emissivity, body, rings):
        self.a, self.b, self.emissivity, self.body, self.rings = np.array(a), np.array(b), emissivity, body, rings
        along = (self.b - self.a) / np.linalg.norm(self.b - self.a)
        self.normal = np.array([along[1], -along[0]])

    def ends(self):
        """(r, z) of the ends of its rings."""
        share = np.linspace(0, 1, self.rings + 1)[:, None]
        return self.a + share * (self.b - self.a)

    def areas(self):
        p = self.ends()
        return np.pi * (p[1:, 0] + p[:-1, 0]) * np.linalg.norm(p[1:] - p[:-1], axis=1)

    def meet(self, start, way):
        """Distance of rays to it, infinite if they miss, and the position along it at which they hit it."""
        dr, dz = self.b - self.a
        with np.errstate(divide="ignore", invalid="ignore"):
            if abs(dz) < 1e-12:
                candidates = [(self.a[1] - start[:, 2]) / way[:, 2]]
            else:
                slope = dr / dz
                radius, rise = self.a[0] + slope * (start[:, 2] - self.a[1]), slope * way[:, 2]
                p = way[:, 0] ** 2 + way[:, 1] ** 2 - rise**2
                q = start[:, 0] * way[:, 0] + start[:, 1] * way[:, 1] - radius * rise
                c = start[:, 0] ** 2 + start[:, 1] ** 2 - radius**2
                root = np.sqrt(q * q - p * c)
                candidates = [(-q - root) / p, (-q + root) / p]
            best, place = np.full(len(start), np.inf), np.zeros(len(start))
            for t in candidates:
                at = start + t[:, None] * way
                r = np.hypot(at[:, 0], at[:, 1])
                share = (r - self.a[0]) / dr if abs(dz) < abs(dr) else (at[:, 2] - self.a[1]) / dz
                on = self.a + share[:, None] * (self.b - self.a)
                good = (t > NEAR) & (share >= 0) & (share <= 1) & (np.abs(on[:, 0] - r) < 1e-7) & (t < best)
                best, place = np.where(good, t, best), np.where(good, share, place)
        return best, place


def strips_of(case):
    """Bodies first, then the turns (body -1)."""
    found = []
    for k, body in enumerate(case.bodies):
        corners = [(body.inner, body.bottom), (body.outer, body.bottom), (body.outer, body.top),
                   (body.inner, body.top)]
        for n in range(4):
            a, b = corners[n], corners[(n + 1) % 4]
            if max(a[0], b[0]) > 0:
                length = np.hypot(b[0] - a[0], b[1] - a[1])
                found.append(Strip(a, b, body.emissivity, k, max(2, round(length / RING))))
    angles = 2 * np.pi * (np.arange(SIDES + 1) + 0.5) / SIDES
    size = case.tube * np.sqrt(2 * np.pi / SIDES / np.sin(2 * np.pi / SIDES))  # of the same section
    for z in case.turn_heights:
        points = np.column_stack([case.turn_radius + size * np.cos(angles), z + size * np.sin(angles)])
        found += [Strip(a, b, case.copper.emissivity, -1, 1) for a, b in zip(points, points[1:])]
    return found


def diffuse(normal, rng):
    """Directions by the cosine law about unit vectors."""
    n = len(normal)
    other = np.where(np.abs(normal[:, [2]]) < 0.9, [[0.0, 0.0, 1.0]], [[1.0, 0.0, 0.0]])
    u = np.cross(normal, other)
    u /= np.linalg.norm(u, axis=1)[:, None]
    v = np.cross(normal, u)
    sine, turn = np.sqrt(rng.random(n)), 2 * np.pi * rng.random(n)
    return (np.sqrt(1 - sine**2)[:, None] * normal + (sine * np.cos(turn))[:, None] * u +
            (sine * np.sin(turn))[:, None] * v)


def turned(normals, place):
    """Normals (r, z) at places in space."""
    r = np.hypot(place[:, 0], place[:, 1])
    r = np.where(r > 0, r, 1.0)
    return np.column_stack([normals[:, 0] * place[:, 0] / r, normals[:, 0] * place[:, 1] / r, normals[:, 1]])


class Radiation:
    """Exchange areas [m^2] of all rings of the bodies with each other, with the coil and with the room."""

    def __init__(self, case, seed=1):
        self.strips = strips_of(case)
        self.own = [s for s in self.strips if s.body >= 0]
        self.first = np.cumsum([0] + [s.rings for s in self.own])
        self.areas = np.concatenate([s.areas() for s in self.own])
        count = self.first[-1]
        rng = np.random.default_rng(seed)
        send = np.zeros((count, count + 2))  # the last two: coil, room
        for k, strip in enumerate(self.own):
            for ring in range(strip.rings):
                row = self.first[k] + ring
                send[row] = strip.emissivity * self.areas[row] * self.fate(strip, ring, rng)
        mutual = send[:, :count]
        self.mutual = 0.5 * (mutual + mutual.T)  # the two ways are two estimates of one number
        self.to_coil, self.to_room = send[:, count], send[:, count + 1]

    def fate(self, strip, ring, rng):
        """Shares of a ring's radiation by where it is absorbed."""
        ends = strip.ends()[ring:ring + 2]
        # Evenly over the area: the radius varies along an end face.
        share = rng.random(RAYS)
        r0, r1 = ends[0, 0], ends[1, 0]
        if abs(r1 - r0) > 1e-12:
            share = (np.sqrt(r0**2 + share * (r1**2 - r0**2)) - r0) / (r1 - r0)
        at = ends[0] + share[:, None] * (ends[1] - ends[0])
        place = np.column_stack([at[:, 0], np.zeros(RAYS), at[:, 1]])
        way = diffuse(turned(np.tile(strip.normal, (RAYS, 1)), place), rng)
        count = self.first[-1]
        found = np.zeros(count + 2)
        while len(place):
            best, which, share = np.full(len(place), np.inf), np.full(len(place), -1), np.zeros(len(place))
            for k, s in enumerate(self.strips):
                t, along = s.meet(place, way)
                nearer = t < best
                best, which, share = np.where(nearer, t, best), np.where(nearer, k, which), np.where(nearer, along, share)
            found[count + 1] += np.sum(which < 0)
            hit = which >= 0
            place, way, which, share = place[hit] + best[hit, None] * way[hit], way[hit], which[hit], share[hit]
            taken = rng.random(len(place)) < np.array([s.emissivity for s in self.strips])[which]
            for k in np.unique(which[taken]):
                s = self.strips[k]
                if s.body < 0:
                    found[count] += np.sum(taken & (which == k))
                else:
                    rings = np.minimum((share[taken & (which == k)] * s.rings).astype(int), s.rings - 1)
                    np.add.at(found, self.first[k] + rings, 1)
            place, which = place[~taken], which[~taken]
            if len(place):
                normals = np.array([s.normal for s in self.strips])[which]
                way = diffuse(turned(normals, place), rng)
        return found / RAYS


def air(kelvin):
    """Conductivity, kinematic viscosity and Prandtl number."""
    at = np.log(kelvin)
    places = np.log([300.0, 600.0, 1000.0])
    k = np.exp(np.interp(at, places, np.log([0.0263, 0.0469, 0.0667])))
    nu = np.exp(np.interp(at, places, np.log([1.589e-5, 5.269e-5, 1.219e-4])))
    return k, nu, np.interp(kelvin, [300.0, 600.0, 1000.0], [0.707, 0.685, 0.726])


def film(kind, length, slenderness, kelvin, room):
    """Heat transfer coefficient of natural convection [W/(m^2 K)]."""
    k, nu, pr = air(0.5 * (kelvin + room))
    grashof = GRAVITY * np.abs(kelvin - room) / (0.5 * (kelvin + room)) * length**3 / nu**2
    ra = grashof * pr
    if kind == "wall":
        nusselt = (0.825 + 0.387 * ra ** (1 / 6) / (1 + (0.492 / pr) ** (9 / 16)) ** (8 / 27)) ** 2
        b = 0.0571322 + 0.20305 * pr**-0.43
        c = 0.9165 - 0.0043 * np.sqrt(pr) + 0.01333 * np.log(pr) + 0.0004809 / pr
        nusselt = nusselt * (1 + b * (np.sqrt(32) * np.maximum(grashof, 1e4) ** -0.25 * slenderness) ** c)
    else:
        nusselt = (0.54 if kind == "up" else 0.27) * ra**0.25
    return nusselt * k / length


class Surroundings:
    """Heat loss of the rings for their temperatures, and its slopes."""

    def __init__(self, case):
        self.case, self.room, self.coil = case, case.surroundings, case.copper_kelvin
        self.radiation = Radiation(case)
        self.areas = self.radiation.areas
        count = len(self.areas)
        self.gap = np.zeros((count, count))  # shape factors [m], times the conductivity of air
        self.flows = []  # rings, kind, length, slenderness
        for k, strip in enumerate(self.radiation.own):
            rings = np.arange(self.radiation.first[k], self.radiation.first[k + 1])
            self.add_air(strip, rings)

    def add_air(self, strip, rings):
        body = self.case.bodies[strip.body]
        if strip.normal[1] > 0.5 or strip.normal[1] < -0.5:
            width = 0.5 * (body.outer - body.inner)  # area over perimeter
            self.flows.append((rings, "up" if strip.normal[1] > 0 else "down", width, 0.0))
            return
        if strip.normal[0] < 0:
            return  # a bore: counted from the body inside
        heights = strip.ends()[:, 1]
        round_it = [(k, s) for k, s in enumerate(self.radiation.own) if s.body != strip.body and s.normal[0] < -0.5
                    and s.a[0] > strip.a[0]]
        free = np.ones(len(rings), dtype=bool)
        for k, other in round_it:
            levels = other.ends()[:, 1]
            shape = 2 * np.pi / np.log(other.a[0] / strip.a[0])
            for i, ring in enumerate(rings):
                for j in range(other.rings):
                    low = max(min(levels[j:j + 2]), min(heights[i:i + 2]))
                    high = min(max(levels[j:j + 2]), max(heights[i:i + 2]))
                    if high > low:
                        self.gap[ring, self.radiation.first[k] + j] += shape * (high - low)
                middle = heights[i:i + 2].mean()
                free[i] &= not min(levels) < middle < max(levels)
        height = abs(heights[-1] - heights[0])
        if free.any():
            self.flows.append((rings[free], "wall", height, height / (2 * strip.a[0])))

    def given(self, kelvin):
        """Of each ring [W] net, the slopes [W/K] as a matrix, and (of all) what coil, room and air take."""
        mutual, t4 = self.radiation.mutual, kelvin**4
        coil = SIGMA * self.radiation.to_coil * (t4 - self.coil**4)
        room = SIGMA * self.radiation.to_room * (t4 - self.room**4)
        heat = SIGMA * (mutual.sum(axis=1) * t4 - mutual @ t4) + coil + room
        slope = -4 * SIGMA * mutual * kelvin[None, :] ** 3
        own = 4 * SIGMA * (mutual.sum(axis=1) + self.radiation.to_coil + self.radiation.to_room) * kelvin**3
        i, j = np.nonzero(self.gap)
        conductance = self.gap[i, j] * air(0.5 * (kelvin[i] + kelvin[j]))[0]
        across = conductance * (kelvin[i] - kelvin[j])
        np.add.at(heat, i, across)
        np.add.at(heat, j, -across)
        np.add.at(own, i, conductance)
        np.add.at(own, j, conductance)
        np.add.at(slope, (i, j), -conductance)
        np.add.at(slope, (j, i), -conductance)
        by_air = 0.0
        for rings, kind, length, slenderness in self.flows:
            h = self.areas[rings] * film(kind, length, slenderness, kelvin[rings] + 1e-9, self.room)
            heat[rings] += h * (kelvin[rings] - self.room)
            own[rings] += 1.25 * h
            by_air += np.sum(h * (kelvin[rings] - self.room))
        slope[np.arange(len(own)), np.arange(len(own))] += own
        return heat, slope, np.array([coil.sum(), room.sum(), by_air])
