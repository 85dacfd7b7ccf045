"""Expected values of deletion.csv, curves.csv and case M9 of gauge.csv; run in this folder.

Dense matrices and closed forms of balanced studies, with numpy and scipy; nothing of the program.
"""

import csv
import sys

import numpy
import scipy
from scipy import integrate, optimize, stats

TOOLS = f"numpy {numpy.__version__}, scipy {scipy.__version__}; own_formulas.py"


def table(name):
    with open("../" + name, newline="") as file:
        return list(csv.DictReader(file))


def write(name, rows):
    with open(name + ".csv", "w", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["id", "quantity", "expected", "kind", "tolerance", "source"])
        writer.writerows(rows)


def indicator(labels):
    return numpy.array([[float(a == b) for b in sorted(set(labels))] for a in labels])


def deletion():
    """One scoring step of REML without some rows, by dense matrices, from the REML estimates.

    Pastes is balanced and its estimates are inside, so REML is the analysis of variance.
    """
    pastes = table("components/lme4_pastes.csv")
    y = numpy.array([float(row["strength"]) for row in pastes])
    batch = [row["batch"] for row in pastes]
    cask = [row["sample"] for row in pastes]
    zb, zc = indicator(batch), indicator(cask)
    mb, mc = zb.T @ y / 6, zc.T @ y / 2
    ms_error = numpy.sum((y - zc @ mc) ** 2) / 30
    ms_cask = numpy.sum((zc @ mc - zb @ mb) ** 2) / 20
    ms_batch = numpy.sum((zb @ mb - y.mean()) ** 2) / 9
    theta = numpy.array([(ms_batch - ms_cask) / 6, (ms_cask - ms_error) / 2, ms_error])
    parts = [zb @ zb.T, zc @ zc.T, numpy.eye(60)]

    def reml(keep):
        pick = numpy.ix_(keep, keep)
        v = sum(t * part[pick] for t, part in zip(theta, parts))
        inverse = numpy.linalg.inv(v)
        one = numpy.ones(len(keep))
        weights = inverse @ one / (one @ inverse @ one)
        p = inverse - numpy.outer(inverse @ one, weights)
        py = p @ y[keep]
        moved = [p @ part[pick] for part in parts]
        score = [(py @ part[pick] @ py - numpy.trace(m)) / 2 for part, m in zip(parts, moved)]
        information = [[numpy.trace(a @ b) / 2 for b in moved] for a in moved]
        return weights @ y[keep], numpy.array(score), numpy.array(information)

    everything = numpy.arange(60)
    mean, score, information = reml(everything)
    assert numpy.max(numpy.abs(score)) < 1e-9
    rows = []
    for case, wanted in [
        ("X1", lambda i: cask[i] == "A:a"),
        ("X2", lambda i: cask[i] in ("D:a", "H:c")),
        ("X3", lambda i: batch[i] == "E"),
    ]:
        keep = numpy.array([i for i in everything if not wanted(i)])
        without, score, _ = reml(keep)
        step = numpy.maximum(numpy.linalg.solve(information, score), -theta)
        source = f"REML score without the rows, information with all, dense; {TOOLS}"
        for name, value in zip(("batch", "cask", "residual"), step):
            rows.append([case, name, repr(float(value)), "abs", "1e-6", source])
        rows.append([case, "mean", repr(float(without - mean)), "abs", "1e-6", source])
    write("deletion", rows)


def positive(matrix):
    values, vectors = numpy.linalg.eigh(matrix)
    return (vectors * numpy.maximum(values, 0)) @ vectors.T


def margin(nu, confidence):
    return nu / stats.chi2.ppf(1 - confidence, nu) - 1


def curves():
    """Components over the points, inflation and joint bound in a balanced one-way study."""
    data = table("components/curves_one_way.csv")
    y = numpy.array([[float(row[x]) for x in ("x1", "x2", "x3")] for row in data])
    a, m = 10, 2
    by_unit = y.reshape(a, m, 3)
    means = by_unit.mean(1)
    grand = y.mean(0)
    between = m * (means - grand).T @ (means - grand) / (a - 1)
    left = (by_unit - means[:, None, :]).reshape(a * m, 3)
    within = left.T @ left / (a * (m - 1))
    raw = (between - within) / m
    assert numpy.linalg.eigvalsh(raw)[0] < 0 < min(numpy.diag(raw))
    unit, residual = positive(raw), positive(within)
    source = f"balanced one-way mean squares and products, negative eigenvalues cut by eigh; {TOOLS}"
    rows = []
    for i in range(3):
        rows.append(["Y1", f"mean {i}", repr(float(grand[i])), "abs", "1e-9", source])
        for j in range(i + 1):
            rows.append(["Y1", f"unit {i} {j}", repr(float(unit[i, j])), "abs", "1e-6", source])
            rows.append(
                ["Y1", f"residual {i} {j}", repr(float(residual[i, j])), "abs", "1e-6", source]
            )
        total = unit[i, i] + residual[i, i]
        rows.append(["Y1", f"total sd {i}", repr(float(total**0.5)), "abs", "1e-6", source])
        error = unit[i, i] / a + residual[i, i] / (a * m)
        rows.append(["Y1", f"error of mean {i}", repr(float(error**0.5)), "abs", "1e-6", source])

    def ratio(i):
        ms, e = between[i, i] / m, (1 - 1 / m) * within[i, i]
        h, g = margin(a - 1, 0.95), margin(a * (m - 1), 0.95)
        return numpy.sqrt(1 + numpy.hypot(ms * h, e * g) / (ms + e))

    totals = numpy.diag(between) / m + (1 - 1 / m) * numpy.diag(within)
    assert 0.25 < totals[1] / totals[0] < 0.75 and totals[2] / totals[0] < 0.25
    assert ratio(0) < ratio(1) < ratio(2)
    source = f"Graybill and Wang 1980 on the mean squares of each point, stats.chi2; {TOOLS}"
    rows.append(["Y2", "inflation", repr(float(max(ratio(0), ratio(1)))), "rel", "1e-6", source])

    two = numpy.ix_([0, 1], [0, 1])
    inflation = max(ratio(0), ratio(1))
    covariance = inflation**2 * (
        (1 + 1 / a) * positive(raw[two]) + (1 + 1 / (a * m)) * positive(within[two])
    )
    sd = numpy.sqrt(numpy.diag(covariance))
    slope = covariance[0, 1] / covariance[0, 0]
    rest = numpy.sqrt(covariance[1, 1] - slope * covariance[0, 1])

    def inside(bound):
        def density(x):
            centre = grand[1] + slope * (x - grand[0])
            both = stats.norm.cdf(bound, centre, rest) - stats.norm.cdf(-bound, centre, rest)
            return stats.norm.pdf(x, grand[0], sd[0]) * both

        return integrate.quad(density, -bound, bound, epsabs=1e-13, epsrel=1e-12)[0]

    together = optimize.brentq(lambda bound: inside(bound) - 0.95, 1, 40, xtol=1e-12)
    source = f"two correlated normals, integrate.quad over the first; {TOOLS}"
    rows.append(["Y3", "together", repr(float(together)), "rel", "1e-5", source])
    write("curves", rows)


def gauge():
    """Intervals of measuring, rows to append to gauge.csv."""
    data = table("check-values/aiag_msa_10x3x3.csv")
    p, o, r = 10, 3, 3
    parts = sorted({row["part"] for row in data})
    people = sorted({row["appraiser"] for row in data})
    y = numpy.zeros((p, o, r))
    seen = numpy.zeros((p, o), int)
    for row in data:
        i, j = parts.index(row["part"]), people.index(row["appraiser"])
        y[i, j, seen[i, j]] = float(row["y"])
        seen[i, j] += 1
    grand, cells = y.mean(), y.mean(2)
    of_part, of_person = y.mean((1, 2)), y.mean((0, 2))
    mso = p * r * numpy.sum((of_person - grand) ** 2) / (o - 1)
    ssi = r * numpy.sum((cells - of_part[:, None] - of_person[None, :] + grand) ** 2)
    sse = numpy.sum((y - cells[:, :, None]) ** 2)
    dfi, dfe = (p - 1) * (o - 1), p * o * (r - 1)
    msi, mse, msp = ssi / dfi, sse / dfe, (ssi + sse) / (dfi + dfe)
    # variance of measuring from its components, so that coefficients come out by themselves
    full = {"o": (mso, o - 1), "i": (msi, dfi), "e": (mse, dfe)}
    pooled = {"o": (mso, o - 1), "e": (msp, dfi + dfe)}

    def with_interaction(o_, i_, e_):
        return e_ + (i_ - e_) / r + (o_ - i_) / (p * r)

    def without(o_, e_):
        return e_ + (o_ - e_) / (p * r)

    for case, squares, variance in [("full", full, with_interaction), ("pooled", pooled, without)]:
        ms = numpy.array([square for square, _ in squares.values()])
        df = numpy.array([freedom for _, freedom in squares.values()])
        weights = numpy.array([variance(*row) for row in numpy.eye(len(ms))])
        for confidence in (0.95, 0.8):
            tail = (1 - confidence) / 2
            g = 1 - df / stats.chi2.isf(tail, df)
            h = df / stats.chi2.ppf(tail, df) - 1
            low = weights @ ms - numpy.sqrt(numpy.sum((weights * ms * g) ** 2))
            high = weights @ ms + numpy.sqrt(numpy.sum((weights * ms * h) ** 2))
            repeat_ms, repeat_df = ms[-1], df[-1]
            exact = [repeat_ms * repeat_df / stats.chi2.isf(q, repeat_df) for q in (tail, 1 - tail)]
            source = (
                "modified large samples (Burdick, Borror and Montgomery 2005; formula from memory),"
                f" weights by putting unit mean squares in; stats.chi2; {TOOLS}"
            )
            alone = f"chi-square interval of one mean square, stats.chi2; {TOOLS}"
            for what, ends, said in [("measuring", (low, high), source), ("repeat", exact, alone)]:
                for end, value in zip(("lower", "upper"), ends):
                    quantity = f"{case} {confidence} {what} {end}"
                    row = ["M9", quantity, repr(float(value**0.5)), "rel", "1e-10", said]
                    csv.writer(sys.stdout, lineterminator="\n").writerow(row)


deletion()
curves()
gauge()
