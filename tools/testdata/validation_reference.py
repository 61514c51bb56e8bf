"""Reference values for the tests of src/EchoToThickness/Validation, made without that code.

Writes testdata/validation/reference.json. Dense matrices, general-purpose optimisers and SciPy's distributions: slow and plain.
Run: python3 tools/testdata/validation_reference.py   (NumPy 1.24.2, SciPy 1.10.1)
"""
import json, pathlib
import numpy as np
from scipy import stats, optimize, integrate, linalg, odr

rng = np.random.default_rng(20261125)
out = {}

# 1. Restricted likelihood, crossed, unequal numbers, by dense matrices.
parts, ops = 8, 3
p_eff, o_eff, i_eff = rng.normal(0, 1.0, parts), rng.normal(0, 0.4, ops), rng.normal(0, 0.25, (parts, ops))
rows = []
for p in range(parts):
    for o in range(ops):
        for _ in range(rng.integers(1, 5)):
            rows.append((p, o, round(10 + p_eff[p] + o_eff[o] + i_eff[p, o] + rng.normal(0, 0.2), 4)))
P, O, Y = (np.array(c) for c in zip(*rows))


def design(codes):
    u = sorted(set(codes))
    return np.array([[1.0 if c == k else 0.0 for k in u] for c in codes])


def reml(y, zs, x):
    n, p = x.shape
    a = linalg.null_space(x.T)
    ya = a.T @ y
    ks = [a.T @ z @ z.T @ a for z in zs]

    def nll(t):
        v = np.exp(2 * t)
        m = v[-1] * np.eye(n - p) + sum(vk * k for vk, k in zip(v, ks))
        c = linalg.cho_factor(m, lower=True)
        return 0.5 * ((n - p) * np.log(2 * np.pi) + 2 * np.log(np.diag(c[0])).sum() + ya @ linalg.cho_solve(c, ya))

    best = None
    for start in (np.full(len(zs) + 1, -1.0), np.linspace(0, -1.5, len(zs) + 1)):
        r = optimize.minimize(nll, start, method="Nelder-Mead", options=dict(xatol=1e-12, fatol=1e-14, maxiter=40000, maxfev=40000, adaptive=True))
        r = optimize.minimize(nll, r.x, method="Nelder-Mead", options=dict(xatol=1e-12, fatol=1e-14, maxiter=40000, maxfev=40000))
        if best is None or r.fun < best.fun:
            best = r
    return np.exp(2 * best.x), -best.fun, nll


one = np.ones((len(Y), 1))
zs = [design(P), design(O), design([f"{a},{b}" for a, b in zip(P, O)])]
v, ll, nll = reml(Y, zs, one)
V = v[-1] * np.eye(len(Y)) + sum(k * z @ z.T for k, z in zip(v, zs))
W = np.linalg.inv(V)
gls = (one.T @ W @ Y)[0] / (one.T @ W @ one)[0, 0]
# Profile interval of the part component: log-likelihood drop chi2(0.95; 1) / 2.
def profile(lv):
    f = lambda t: nll(np.array([lv, *t]))
    return -optimize.minimize(f, np.log(v[1:]) / 2, method="Nelder-Mead", options=dict(xatol=1e-9, fatol=1e-11, maxiter=9000)).fun
drop = lambda lv: 2 * (ll - profile(lv)) - stats.chi2.ppf(0.95, 1)
lo = optimize.brentq(drop, np.log(v[0]) / 2 - 2, np.log(v[0]) / 2, xtol=1e-7)
hi = optimize.brentq(drop, np.log(v[0]) / 2, np.log(v[0]) / 2 + 2, xtol=1e-7)
out["reml_crossed"] = dict(part=P.tolist(), op=O.tolist(), y=Y.tolist(), variance=v.tolist(), mean=gls, mean_se=float((one.T @ W @ one)[0, 0] ** -0.5),
                           part_sd=[float(np.exp(lo)), float(np.exp(hi))], loglik=ll)
# log|X'X| convention: null_space is orthonormal, so |A'VA| = |V| |X'V^-1X| / |X'X|.
out["reml_crossed"]["loglik_with_xx"] = ll - 0.5 * np.log(len(Y))

# 2. Balanced gauge study, the well known ten parts, three operators, three trials (data from memory), by plain ANOVA arithmetic.
A = np.array([[[.29, -.56, 1.34, .47, -.80, .02, .59, -.31, 2.26, -1.36], [.41, -.68, 1.17, .50, -.92, -.11, .75, -.20, 1.99, -1.25], [.64, -.58, 1.27, .64, -.84, -.21, .66, -.17, 2.01, -1.31]],
              [[.08, -.47, 1.19, .01, -.56, -.20, .47, -.63, 1.80, -1.68], [.25, -1.22, .94, 1.03, -1.20, .22, .55, .08, 2.12, -1.62], [.07, -.68, 1.34, .20, -1.28, .06, .83, -.34, 2.19, -1.50]],
              [[.04, -1.38, .88, .14, -1.46, -.29, .02, -.46, 1.77, -1.49], [-.11, -1.13, 1.09, .20, -1.07, -.67, .01, -.56, 1.45, -1.77], [-.15, -.96, .67, .11, -1.45, -.49, .21, -.49, 1.87, -2.16]]])
out["gauge"] = dict(values=A.tolist())  # [operator][trial][part]

# 3. CR2 with dense matrices and Satterthwaite degrees of freedom.
g, X, yy, cl = 9, [], [], []
for k in range(g):
    u = rng.normal(0, 0.5)
    t = rng.choice([4.0, 6.0, 8.0, 10.0, 12.0])
    for _ in range(rng.integers(2, 9)):
        z = rng.normal()
        X.append([1, t, z]); yy.append(round(0.1 + 0.02 * t + 0.3 * z + u + rng.normal(0, 0.3), 4)); cl.append(k)
X, yy, cl = np.array(X), np.array(yy), np.array(cl)
X[:, 2] = X[:, 2].round(4)
B = np.linalg.inv(X.T @ X); beta = B @ X.T @ yy; e = yy - X @ beta; H = X @ B @ X.T; n = len(yy)
def root_inv(m):
    w, q = np.linalg.eigh(m)
    return q @ np.diag([1 / np.sqrt(x) if x > 1e-9 else 0 for x in w]) @ q.T
S = np.zeros((n, n)); As = {}
for k in range(g):
    i = np.where(cl == k)[0]
    As[k] = root_inv(np.eye(len(i)) - H[np.ix_(i, i)])
meat = sum((X[cl == k].T @ As[k] @ e[cl == k])[:, None] @ (X[cl == k].T @ As[k] @ e[cl == k])[None, :] for k in range(g))
cov = B @ meat @ B
dofs = []
for j in range(3):
    G = np.stack([(np.eye(n) - H)[:, cl == k] @ As[k] @ X[cl == k] @ B[:, j] for k in range(g)], axis=1)
    lam = np.linalg.eigvalsh(G.T @ G)
    dofs.append(lam.sum() ** 2 / (lam ** 2).sum())
out["cr2"] = dict(x1=X[:, 1].tolist(), x2=X[:, 2].tolist(), y=yy.tolist(), cluster=cl.tolist(), beta=beta.tolist(), se=np.sqrt(np.diag(cov)).tolist(), dof=dofs)

# 5. Firth's logistic regression on separated data, by maximising the penalised likelihood.
fx = np.array([0.5, 0.8, 1.0, 1.3, 1.6, 2.0, 2.4, 3.0]); fy = np.array([0, 0, 0, 0, 1, 1, 1, 1])
fX = np.column_stack([np.ones(8), np.log(fx)])
def pen(b):
    eta = fX @ b; pr = 1 / (1 + np.exp(-eta)); w = pr * (1 - pr)
    return -(fy @ eta - np.logaddexp(0, eta).sum() + 0.5 * np.log(np.linalg.det(fX.T @ (fX * w[:, None]))))
r = optimize.minimize(pen, [0, 1], method="Nelder-Mead", options=dict(xatol=1e-11, fatol=1e-14, maxiter=9000))
out["firth"] = dict(size=fx.tolist(), hit=fy.tolist(), b=r.x.tolist(), loglik=-r.fun)

# 6. Cluster-robust logit: sandwich over features with G / (G - 1), two looks at each feature.
s = np.round(np.exp(rng.uniform(np.log(0.5), np.log(6), 70)), 3); u = rng.normal(0, 0.8, 70)
size, hit, feat = [], [], []
for k in range(70):
    for _ in range(3):
        size.append(float(s[k])); feat.append(k); hit.append(int(rng.random() < 1 / (1 + np.exp(-(-1.2 + 2.5 * np.log(s[k]) + u[k])))))
Xl = np.column_stack([np.ones(210), np.log(size)]); h = np.array(hit)
nl = lambda b: (np.logaddexp(0, Xl @ b) - h * (Xl @ b)).sum()
b = optimize.minimize(nl, [0, 1], method="BFGS", options=dict(gtol=1e-10)).x
for _ in range(20):
    pr = 1 / (1 + np.exp(-Xl @ b)); I = Xl.T @ (Xl * (pr * (1 - pr))[:, None]); b = b + np.linalg.solve(I, Xl.T @ (h - pr))
sc = Xl * (h - pr)[:, None]; sg = np.array([sc[np.array(feat) == k].sum(0) for k in range(70)])
cv = np.linalg.inv(I) @ (sg.T @ sg * 70 / 69) @ np.linalg.inv(I)
out["robust_logit"] = dict(size=size, hit=hit, feature=feat, b=b.tolist(), se=np.sqrt(np.diag(cv)).tolist(), cov=float(cv[0, 1]))

# 7. Pearson's data with York's weights: errors in both variables (York et al., Am. J. Phys. 72, 2004), by orthogonal distance regression.
px = np.array([0, .9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4]); py = np.array([5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5])
wx = np.array([1000., 1000, 500, 800, 200, 80, 60, 20, 1.8, 1]); wy = np.array([1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500.])
m = odr.ODR(odr.RealData(px, py, sx=wx ** -0.5, sy=wy ** -0.5), odr.Model(lambda q, x: q[0] + q[1] * x), beta0=[5, -0.5], sstol=1e-15, partol=1e-15, maxit=2000).run()
out["york"] = dict(x=px.tolist(), y=py.tolist(), wx=wx.tolist(), wy=wy.tolist(), a=m.beta[0], b=m.beta[1], chi2=m.sum_square)

# 8. Power of two one-sided tests, by integration over the observed deviation.
def tost(n, delta, bias, sd, alpha=0.05):
    nu = n - 1; tc = stats.t.ppf(1 - alpha, nu); se = sd / np.sqrt(n)
    f = lambda q: max(0.0, stats.norm.cdf((delta - bias) / se - tc * q) - stats.norm.cdf(-(delta + bias) / se + tc * q)) * 2 * nu * q * stats.chi2.pdf(nu * q * q, nu)
    return integrate.quad(f, 0, (delta / se) / tc, limit=400, epsabs=1e-12)[0]
out["tost_power"] = [dict(n=n, delta=d, bias=b, sd=s, power=tost(n, d, b, s)) for n, d, b, s in [(8, 0.3, 0.0, 0.25), (12, 0.3, 0.1, 0.25), (30, 0.3, 0.15, 0.3), (5, 0.3, 0.0, 0.1)]]

# 9. Smallest counts of distribution-free limits.
def least(p, c, two):
    n = 2 if two else 1
    while (1 - n * p ** (n - 1) + (n - 1) * p ** n if two else 1 - p ** n) < c:
        n += 1
    return n
out["wilks"] = [dict(share=p, confidence=c, one=least(p, c, False), two=least(p, c, True)) for p, c in [(0.95, 0.95), (0.9, 0.95), (0.99, 0.95), (0.95, 0.99)]]

path = pathlib.Path(__file__).resolve().parents[2] / "testdata" / "validation" / "reference.json"
path.write_text(json.dumps(out, indent=1) + "\n")
