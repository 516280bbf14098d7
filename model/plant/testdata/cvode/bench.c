/*
 * bench: the gas bench solved with SUNDIALS CVODE (variable-order BDF,
 * Newton iteration, dense direct linear solver).
 *
 * It is a reference: it shares no code with the rest of the project, so its
 * event times and its processor time can be set against the project's own
 * engine. All quantities are in SI units.
 *
 * The plant
 *
 *   inflow -> vessel -> (line orifice) -> body -> (main valve) -> tailpipe
 *                                          |                         ^ |
 *                                       (bleed)                (pilot) v
 *                                          +------> chamber -----------+ atmosphere
 *
 * The disc closes the main valve from below. Body pressure pushes it down on
 * the ring outside the seat, chamber pressure and a spring push it up. The
 * pilot empties the chamber into the tailpipe; a solenoid lifts it, switched
 * by a relay with delays, the relay by a pressure switch with two limits on a
 * first-order sensor that reads the vessel.
 *
 * State, 14 variables
 *
 *   m, U of vessel, body, chamber, tailpipe (kg, J)
 *   x, v disc travel down from the seat and its velocity
 *   s, w pilot plunger lift and its velocity
 *   i    coil current
 *   q    sensor pressure
 *
 * Volumes, ideal gas: p = (gamma - 1) U / V, T = U / (m cv)
 *
 *   vessel   V
 *   body     Vline + (Ag - As) x + As Phi
 *   chamber  Vc0 - Ag x
 *   tailpipe Vtail + As (x - Phi)
 *
 *   As = pi Dseat^2/4, Ag = pi Dguide^2/4, r = 4 x/Dseat,
 *   phi = r^2/(1 + r^2), Phi = integral of phi dx = x - (Dseat/4) atan(r)
 *
 * Flow through an opening with C = Cd x area, from the side with the higher
 * pressure (u) to the other (d), either way with the same C:
 *
 *   W = C pu/sqrt(R Tu) psi(pd/pu), carrying cp Tu per kg
 *   psi(r) = sqrt(2 gamma/(gamma - 1) (r^(2/gamma) - r^((gamma + 1)/gamma)))
 *
 * constant below the critical ratio (2/(gamma + 1))^(gamma/(gamma - 1)). For
 * z = 1 - r below 1e-3, psi is a z + b z^3 with a, b such that value and slope
 * join at z = 1e-3.
 *
 *   line      Cd A
 *   main      Cd As Ac/sqrt(As^2 + Ac^2), Ac = pi Dseat x
 *   bleed     Cd A
 *   pilot     Cd Ap s/smax
 *   tail      Cd A, the atmosphere being a source at fixed p and T
 *   inflow    constant, at its own temperature
 *
 * Disc, down positive, pA body, pB chamber, pT tailpipe:
 *
 *   m dv/dt = pA (Ag - As + phi As) + pT (1 - phi) As - pB Ag - (F0 + k x)
 *             + m g - c v - Fc tanh(v/vs)
 *
 * Its three pressure terms times v are the work the three volumes do.
 *
 * Plunger, up positive:
 *
 *   m dw/dt = Kf i^2/(1 + (smax - s)/g0)^2 - (Fp0 + kp s)
 *             - Ap (pB - pT) (1 - s/smax) - cp w
 *
 * Coil: L di/dt = V on - R i. Sensor: tau dq/dt = p vessel - q.
 *
 * Stops. A part that meets a stop leaves it with e times its speed. If that
 * is below its hold speed, and the force without friction (and without
 * damping, which a part at rest has not) pushes towards the stop, it is held.
 * A held disc leaves when that force exceeds Fc away from the stop, a held
 * plunger when it exceeds zero.
 *
 * Relay. When the switch makes, a pending release is dropped and, if the coil
 * is dead, it is set to come on after the delay; likewise the other way round.
 *
 * Start. Vessel, body and chamber at one pressure, tailpipe at atmosphere, all
 * gas at one temperature, both parts held on their seats, sensor at vessel
 * pressure, no current, switch open.
 */
#define _XOPEN_SOURCE 700
#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_types.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

enum { MV, UV, MB, UB, MC, UC, MT, UT, X, VX, SL, WS, I, Q, N };

static const char *const state_names[N] = {
    "vessel.mass",  "vessel.energy",  "body.mass",     "body.energy",
    "chamber.mass", "chamber.energy", "tail.mass",     "tail.energy",
    "disc.lift",    "disc.velocity",  "plunger.lift",  "plunger.velocity",
    "coil.current", "sensor.pressure"};

/* ---------------------------------------------------------------- plant -- */

typedef struct {
    /* gas */
    double gamma, R;
    /* volumes, sources */
    double vesselV, vesselP, startT, inflow, inflowT, atmP, atmT;
    double lineA, lineCd, lineV;
    double tailV, tailA, tailCd;
    /* disc */
    double seatD, guideD, mainCd, springK, springF0;
    double discM, discC, discFc, discVs, discE, discHold, discMax, g;
    double chamberV, bleedA, bleedCd;
    /* pilot */
    double pilotA, pilotCd, plM, plK, plF0, plC, plE, plHold, plMax;
    /* coil, sensor, switch, relay */
    double coilL, coilR, coilV, coilKf, coilG0;
    double set, reset, lag, relayOn, relayOff;
} Plant;

static const Plant gas_bench = {
    .gamma = 1.4, .R = 287.05,
    .vesselV = 5, .vesselP = 11.5e5, .startT = 300,
    .inflow = 1, .inflowT = 300, .atmP = 1.01325e5, .atmT = 300,
    .lineA = 5026.5e-6, .lineCd = 0.70, .lineV = 10e-3,
    .tailV = 24e-3, .tailA = 7854e-6, .tailCd = 0.9,
    .seatD = 50e-3, .guideD = 70e-3, .mainCd = 0.85,
    .springK = 20e3, .springF0 = 200,
    .discM = 1.5, .discC = 20, .discFc = 20, .discVs = 10e-3,
    .discE = 0.3, .discHold = 1e-3, .discMax = 15e-3, .g = 9.81,
    .chamberV = 0.3e-3, .bleedA = 4e-6, .bleedCd = 0.8,
    .pilotA = 80e-6, .pilotCd = 0.8, .plM = 0.1, .plK = 2e3, .plF0 = 20,
    .plC = 20, .plE = 0.1, .plHold = 10e-3, .plMax = 3e-3,
    .coilL = 2, .coilR = 50, .coilV = 125, .coilKf = 160, .coilG0 = 3e-3,
    .set = 12.0e5, .reset = 11.3e5, .lag = 50e-3,
    .relayOn = 10e-3, .relayOff = 10e-3,
};

enum { POSITIVE, NOT_NEGATIVE, FINITE };

static const struct {
    const char *name;
    size_t at;
    int range;
} settings[] = {
#define F(name, field, range) {name, offsetof(Plant, field), range}
    F("vessel.volume", vesselV, POSITIVE),
    F("vessel.pressure", vesselP, POSITIVE),
    F("start.temperature", startT, POSITIVE),
    F("inflow", inflow, NOT_NEGATIVE),
    F("inflow.temperature", inflowT, POSITIVE),
    F("atmosphere.pressure", atmP, POSITIVE),
    F("atmosphere.temperature", atmT, POSITIVE),
    F("gas.gamma", gamma, POSITIVE),
    F("gas.constant", R, POSITIVE),
    F("line.area", lineA, NOT_NEGATIVE),
    F("line.cd", lineCd, NOT_NEGATIVE),
    F("line.volume", lineV, POSITIVE),
    F("seat.diameter", seatD, POSITIVE),
    F("guide.diameter", guideD, POSITIVE),
    F("main.cd", mainCd, NOT_NEGATIVE),
    F("spring.rate", springK, NOT_NEGATIVE),
    F("spring.preload", springF0, FINITE),
    F("disc.mass", discM, POSITIVE),
    F("disc.damping", discC, NOT_NEGATIVE),
    F("disc.friction", discFc, NOT_NEGATIVE),
    F("disc.friction-speed", discVs, POSITIVE),
    F("disc.restitution", discE, NOT_NEGATIVE),
    F("disc.hold-speed", discHold, POSITIVE),
    F("disc.travel", discMax, POSITIVE),
    F("gravity", g, FINITE),
    F("chamber.volume", chamberV, POSITIVE),
    F("bleed.area", bleedA, NOT_NEGATIVE),
    F("bleed.cd", bleedCd, NOT_NEGATIVE),
    F("pilot.area", pilotA, NOT_NEGATIVE),
    F("pilot.cd", pilotCd, NOT_NEGATIVE),
    F("plunger.mass", plM, POSITIVE),
    F("plunger.spring", plK, NOT_NEGATIVE),
    F("plunger.preload", plF0, FINITE),
    F("plunger.damping", plC, NOT_NEGATIVE),
    F("plunger.restitution", plE, NOT_NEGATIVE),
    F("plunger.hold-speed", plHold, POSITIVE),
    F("plunger.travel", plMax, POSITIVE),
    F("tail.volume", tailV, POSITIVE),
    F("tail.area", tailA, NOT_NEGATIVE),
    F("tail.cd", tailCd, NOT_NEGATIVE),
    F("coil.inductance", coilL, POSITIVE),
    F("coil.resistance", coilR, POSITIVE),
    F("coil.voltage", coilV, NOT_NEGATIVE),
    F("coil.force", coilKf, NOT_NEGATIVE),
    F("coil.gap", coilG0, POSITIVE),
    F("switch.set", set, POSITIVE),
    F("switch.reset", reset, POSITIVE),
    F("sensor.lag", lag, POSITIVE),
    F("relay.on", relayOn, NOT_NEGATIVE),
    F("relay.off", relayOff, NOT_NEGATIVE),
#undef F
};

enum { HELD_LOW, FLYING, HELD_HIGH };

/* What follows from the travel: phi and the three volumes. */
typedef struct {
    double phi, body, chamber, tail;
} Shape;

/* A plant with what follows from its values once, and its modes. */
typedef struct {
    Plant p;
    double As, Ag, ring, r_per_x, ac_per_x, As2;
    double gm1, icv, cp, invR, ig, psiK, rcrit, psiMax, za, zb;
    double Cline, Cbleed, Ctail, Cmain, Cpilot_per_s;
    double vesselK, ism, im_disc, im_pl, inflowH, atmC, atmH;
    double ivs, ig0, iL, ilag;
    Shape closed, full;    /* at either stop */
    /* modes */
    int disc, plunger;     /* HELD_LOW, FLYING, HELD_HIGH */
    int made, on;          /* switch made, coil live */
    int pending;           /* the relay is about to change */
    double pending_at;
    long nrhs, njac;
} Bench;

static Shape shape_at(const Bench *b, double x) {
    double r = x * b->r_per_x, r2 = r * r;
    double Phi = x - atan(r) / b->r_per_x;
    return (Shape){r2 / (1 + r2), b->p.lineV + b->ring * x + b->As * Phi,
                   b->p.chamberV - b->Ag * x, b->p.tailV + b->As * (x - Phi)};
}

static void derive(Bench *b, const Plant *plant) {
    memset(b, 0, sizeof *b);
    b->p = *plant;
    const Plant *p = &b->p;
    b->As = M_PI * p->seatD * p->seatD / 4;
    b->Ag = M_PI * p->guideD * p->guideD / 4;
    b->ring = b->Ag - b->As;
    b->As2 = b->As * b->As;
    b->r_per_x = 4 / p->seatD;
    b->ac_per_x = M_PI * p->seatD;

    double k = p->gamma;
    b->gm1 = k - 1;
    b->icv = (k - 1) / p->R;
    b->cp = k * p->R / (k - 1);
    b->invR = 1 / p->R;
    b->ig = 1 / k;
    b->psiK = 2 * k / (k - 1);
    b->rcrit = pow(2 / (k + 1), k / (k - 1));
    double q = pow(b->rcrit, b->ig);
    b->psiMax = sqrt(b->psiK * q * (q - b->rcrit));
    /* the cubic near equal pressures */
    double z = 1e-3, r = 1 - z;
    q = pow(r, b->ig);
    double psi = sqrt(b->psiK * q * (q - r));
    double slope = -b->psiK * q * (2 * q / r - (k + 1)) / (2 * k * psi);
    b->zb = (slope - psi / z) / (2 * z * z);
    b->za = psi / z - b->zb * z * z;

    b->Cline = p->lineCd * p->lineA;
    b->Cbleed = p->bleedCd * p->bleedA;
    b->Ctail = p->tailCd * p->tailA;
    b->Cmain = p->mainCd * b->As;
    b->ism = 1 / p->plMax;
    b->Cpilot_per_s = p->pilotCd * p->pilotA * b->ism;
    b->vesselK = b->gm1 / p->vesselV;
    b->im_disc = 1 / p->discM;
    b->im_pl = 1 / p->plM;
    b->inflowH = p->inflow * b->cp * p->inflowT;
    b->atmC = p->atmP / sqrt(p->R * p->atmT);
    b->atmH = b->cp * p->atmT;
    b->ivs = 1 / p->discVs;
    b->ig0 = 1 / p->coilG0;
    b->iL = 1 / p->coilL;
    b->ilag = 1 / p->lag;
    b->closed = shape_at(b, 0);
    b->full = shape_at(b, p->discMax);
}

/* ------------------------------------------------------------ equations -- */

/* The gas of one volume: pressure, c = p/sqrt(R T), h = cp T. */
typedef struct {
    double p, c, h;
} Gas;

static inline Gas gas(const Bench *b, double m, double U, double p) {
    double e = U / m;
    return (Gas){p, p / sqrt(b->gm1 * e), b->p.gamma * e};
}

static inline double psi_of(const Bench *b, double r) {
    if (r <= b->rcrit) return b->psiMax;
    double z = 1 - r;
    if (z < 1e-3) return z * (b->za + b->zb * z * z);
    double q = exp(log(r) * b->ig);
    return sqrt(b->psiK * q * (q - r));
}

/* Mass flow from a to c through C, and the enthalpy it carries. */
static inline double nozzle(const Bench *b, double C, const Gas *a,
                            const Gas *c, double *H) {
    double W;
    if (a->p >= c->p) {
        W = C * a->c * psi_of(b, c->p / a->p);
        *H = W * a->h;
    } else {
        W = -C * c->c * psi_of(b, a->p / c->p);
        *H = W * c->h;
    }
    return W;
}

static inline Shape shape(const Bench *b, double x) {
    if (x == 0) return b->closed;
    if (x == b->p.discMax) return b->full;
    return shape_at(b, x);
}

/* Forces without damping and friction: on the disc, down; on the plunger, up. */
static inline double disc_force(const Bench *b, double x, double phi,
                                double pA, double pB, double pT) {
    return pA * (b->ring + phi * b->As) + pT * (1 - phi) * b->As - pB * b->Ag -
           (b->p.springF0 + b->p.springK * x) + b->p.discM * b->p.g;
}

static inline double plunger_force(const Bench *b, double s, double i,
                                   double pB, double pT) {
    double gap = 1 + (b->p.plMax - s) * b->ig0;
    return b->p.coilKf * i * i / (gap * gap) - (b->p.plF0 + b->p.plK * s) -
           b->p.pilotA * (pB - pT) * (1 - s * b->ism);
}

static inline int impossible(const double *y, const Shape *h) {
    return !(y[MV] > 0 && y[UV] > 0 && y[MB] > 0 && y[UB] > 0 && y[MC] > 0 &&
             y[UC] > 0 && y[MT] > 0 && y[UT] > 0 && h->body > 0 &&
             h->chamber > 0 && h->tail > 0);
}

static int rhs(realtype t, N_Vector yv, N_Vector dv, void *user) {
    (void)t;
    Bench *b = user;
    const double *y = NV_DATA_S(yv);
    double *d = NV_DATA_S(dv);
    b->nrhs++;

    double x = y[X], v = y[VX];
    Shape h = shape(b, x);
    if (impossible(y, &h)) return 1;

    Gas V = gas(b, y[MV], y[UV], b->vesselK * y[UV]);
    Gas A = gas(b, y[MB], y[UB], b->gm1 * y[UB] / h.body);
    Gas B = gas(b, y[MC], y[UC], b->gm1 * y[UC] / h.chamber);
    Gas T = gas(b, y[MT], y[UT], b->gm1 * y[UT] / h.tail);
    Gas O = {b->p.atmP, b->atmC, b->atmH};

    double Hl, Hb, Ht, Hm = 0, Hp = 0, Wm = 0, Wp = 0;
    double Wl = nozzle(b, b->Cline, &V, &A, &Hl);
    double Wb = nozzle(b, b->Cbleed, &A, &B, &Hb);
    double Wt = nozzle(b, b->Ctail, &T, &O, &Ht);
    if (b->disc != HELD_LOW) {
        double Ac = b->ac_per_x * x;
        Wm = nozzle(b, b->Cmain * Ac / sqrt(b->As2 + Ac * Ac), &A, &T, &Hm);
    }
    if (b->plunger != HELD_LOW)
        Wp = nozzle(b, b->Cpilot_per_s * y[SL], &B, &T, &Hp);

    d[MV] = b->p.inflow - Wl;
    d[UV] = b->inflowH - Hl;
    d[MB] = Wl - Wb - Wm;
    d[UB] = Hl - Hb - Hm;
    d[MC] = Wb - Wp;
    d[UC] = Hb - Hp;
    d[MT] = Wm + Wp - Wt;
    d[UT] = Hm + Hp - Ht;

    if (b->disc == FLYING) {
        double fA = A.p * (b->ring + h.phi * b->As);
        double fT = T.p * (1 - h.phi) * b->As;
        double fB = B.p * b->Ag;
        d[UB] -= fA * v;
        d[UT] -= fT * v;
        d[UC] += fB * v;
        d[X] = v;
        d[VX] = b->p.g + b->im_disc * (fA + fT - fB - b->p.springF0 -
                                       b->p.springK * x - b->p.discC * v -
                                       b->p.discFc * tanh(v * b->ivs));
    } else {
        d[X] = d[VX] = 0;
    }
    if (b->plunger == FLYING) {
        d[SL] = y[WS];
        d[WS] = b->im_pl * (plunger_force(b, y[SL], y[I], B.p, T.p) -
                            b->p.plC * y[WS]);
    } else {
        d[SL] = d[WS] = 0;
    }
    d[I] = b->iL * ((b->on ? b->p.coilV : 0) - b->p.coilR * y[I]);
    d[Q] = b->ilag * (V.p - y[Q]);
    return 0;
}

/* ------------------------------------------------------------- Jacobian -- */

/* One side of a flow: where its mass and energy stand (energy next to mass,
 * -1 for a boundary) and how its pressure moves with the energy and x. */
typedef struct {
    int m;
    double mass, U, p, pU, px;
    double c, h;
} Side;

static inline Side side(const Bench *b, int at, const double *y, double V,
                        double dVdx) {
    double m = y[at], U = y[at + 1], e = U / m, pU = b->gm1 / V, p = pU * U;
    return (Side){at, m, U, p, pU, -p * dVdx / V, p / sqrt(b->gm1 * e),
                  b->p.gamma * e};
}

static inline void add_col(double *col, const Side *u, const Side *d,
                           double dW, double dH) {
    col[u->m] -= dW;
    col[u->m + 1] -= dH;
    if (d->m >= 0) {
        col[d->m] += dW;
        col[d->m + 1] += dH;
    }
}

/* Adds the derivatives of one flow between a and c, a never a boundary. J is
 * stored by columns. par is the variable the opening depends on (or -1), Cpar
 * the derivative; with_x tells whether x moves. */
static inline void add_flow(const Bench *b, double *J, double C, const Side *a,
                            const Side *c, int par, double Cpar, int with_x) {
    int forward = a->p >= c->p;
    const Side *u = forward ? a : c, *d = forward ? c : a;
    double sg = forward ? 1 : -1;
    double r = d->p / u->p, psi, dpsi;
    if (r <= b->rcrit) {
        psi = b->psiMax;
        dpsi = 0;
    } else {
        double z = 1 - r;
        if (z < 1e-3) {
            psi = z * (b->za + b->zb * z * z);
            dpsi = -(b->za + 3 * b->zb * z * z);
        } else {
            double q = exp(log(r) * b->ig);
            psi = sqrt(b->psiK * q * (q - r));
            dpsi = b->psiK * q * b->ig * (2 * q / r - (b->p.gamma + 1)) /
                   (2 * psi);
        }
    }
    /* W is the flow from a to c, positive or negative */
    double w1 = sg * u->c * psi;               /* W per C */
    double W = C * w1;
    double k = sg * C * u->c / u->p;           /* C/sqrt(R Tu), signed */
    double Wpu = k * (psi - r * dpsi), Wpd = k * dpsi;

    if (u->m >= 0) {
        double dW = W / (2 * u->mass);
        add_col(J + u->m * N, a, c, dW, -u->h * dW);
        dW = Wpu * u->pU - W / (2 * u->U);
        add_col(J + (u->m + 1) * N, a, c, dW, u->h * (dW + W / u->U));
    }
    if (d->m >= 0) {
        double dW = Wpd * d->pU;
        add_col(J + (d->m + 1) * N, a, c, dW, u->h * dW);
    }
    if (with_x) {
        double dW = Wpu * u->px + Wpd * d->px;
        if (par == X) dW += w1 * Cpar;
        add_col(J + X * N, a, c, dW, u->h * dW);
    }
    if (par == SL) {
        double dW = w1 * Cpar;
        add_col(J + SL * N, a, c, dW, u->h * dW);
    }
}

/* The Jacobian by columns, J arriving zeroed. Columns of a variable that stands
 * still stay zero: they would only ever meet a correction of zero. */
static int fill_jacobian(const Bench *b, const double *y, double *J) {
#define JAC(row, col) J[(col) * N + (row)]

    double x = y[X], v = y[VX];
    Shape h = shape(b, x);
    if (impossible(y, &h)) return 1;
    int moves = b->disc == FLYING;

    Side V = side(b, MV, y, b->p.vesselV, 0);
    Side A = side(b, MB, y, h.body, b->ring + b->As * h.phi);
    Side B = side(b, MC, y, h.chamber, -b->Ag);
    Side T = side(b, MT, y, h.tail, b->As * (1 - h.phi));
    Side O = {-1, 0, 0, b->p.atmP, 0, 0, b->atmC, b->atmH};

    add_flow(b, J, b->Cline, &V, &A, -1, 0, moves);
    add_flow(b, J, b->Cbleed, &A, &B, -1, 0, moves);
    add_flow(b, J, b->Ctail, &T, &O, -1, 0, moves);
    if (b->disc != HELD_LOW) {
        double Ac = b->ac_per_x * x, q = 1 / (b->As2 + Ac * Ac), sq = sqrt(q);
        add_flow(b, J, b->Cmain * Ac * sq, &A, &T, X,
                 b->Cmain * b->ac_per_x * b->As2 * q * sq, moves);
    }
    if (b->plunger != HELD_LOW)
        add_flow(b, J, b->Cpilot_per_s * y[SL], &B, &T,
                 b->plunger == FLYING ? SL : -1, b->Cpilot_per_s, moves);

    if (moves) {
        double aA = b->ring + h.phi * b->As, aT = (1 - h.phi) * b->As;
        double r = x * b->r_per_x, q = 1 / (1 + r * r);
        double aX = b->As * 2 * r * q * q * b->r_per_x; /* d aA/dx = -d aT/dx */
        JAC(UB, UB) -= aA * A.pU * v;
        JAC(UT, UT) -= aT * T.pU * v;
        JAC(UC, UC) += b->Ag * B.pU * v;
        JAC(UB, X) -= (aA * A.px + aX * A.p) * v;
        JAC(UT, X) -= (aT * T.px - aX * T.p) * v;
        JAC(UC, X) += b->Ag * B.px * v;
        JAC(UB, VX) -= aA * A.p;
        JAC(UT, VX) -= aT * T.p;
        JAC(UC, VX) += b->Ag * B.p;
        JAC(X, VX) = 1;
        JAC(VX, UB) = b->im_disc * aA * A.pU;
        JAC(VX, UT) = b->im_disc * aT * T.pU;
        JAC(VX, UC) = -b->im_disc * b->Ag * B.pU;
        JAC(VX, X) = b->im_disc *
                     (aA * A.px + aT * T.px + aX * (A.p - T.p) -
                      b->Ag * B.px - b->p.springK);
        double th = tanh(v * b->ivs);
        JAC(VX, VX) = -b->im_disc *
                      (b->p.discC + b->p.discFc * b->ivs * (1 - th * th));
    }
    if (b->plunger == FLYING) {
        double s = y[SL], lever = b->p.pilotA * (1 - s * b->ism);
        double gap = 1 + (b->p.plMax - s) * b->ig0, ig2 = 1 / (gap * gap);
        JAC(SL, WS) = 1;
        JAC(WS, UC) = -b->im_pl * lever * B.pU;
        JAC(WS, UT) = b->im_pl * lever * T.pU;
        JAC(WS, X) = moves ? -b->im_pl * lever * (B.px - T.px) : 0;
        JAC(WS, SL) = b->im_pl *
                     (2 * b->p.coilKf * y[I] * y[I] * ig2 / gap * b->ig0 -
                      b->p.plK + b->p.pilotA * (B.p - T.p) * b->ism);
        JAC(WS, WS) = -b->im_pl * b->p.plC;
        JAC(WS, I) = b->im_pl * 2 * b->p.coilKf * y[I] * ig2;
    }
    JAC(I, I) = -b->iL * b->p.coilR;
    JAC(Q, UV) = b->ilag * V.pU;
    JAC(Q, Q) = -b->ilag;
    return 0;
#undef JAC
}

static int jacobian(realtype t, N_Vector y, N_Vector fy, SUNMatrix J, void *user,
                    N_Vector t1, N_Vector t2, N_Vector t3) {
    (void)t, (void)fy, (void)t1, (void)t2, (void)t3;
    return fill_jacobian(user, NV_DATA_S(y), SM_DATA_D(J));
}

/* The matrix of the Newton iteration, I - gamma J, in one go: cheaper than to
 * keep J, copy it and scale it, and always current. */
static int newton_matrix(realtype t, N_Vector y, N_Vector fy, SUNMatrix A,
                         booleantype jok, booleantype *jcur, realtype gamma,
                         void *user, N_Vector t1, N_Vector t2, N_Vector t3) {
    (void)t, (void)fy, (void)jok, (void)t1, (void)t2, (void)t3;
    Bench *b = user;
    double *a = SM_DATA_D(A);
    memset(a, 0, N * N * sizeof *a);
    b->njac++;
    *jcur = SUNTRUE;
    if (fill_jacobian(b, NV_DATA_S(y), a)) return 1;
    for (int k = 0; k < N * N; k++) a[k] *= -gamma;
    for (int k = 0; k < N; k++) a[k * (N + 1)] += 1;
    return 0;
}

/* ------------------------------------------------------- linear algebra -- */

/* The library's dense solver always works on all 14 unknowns. This one uses
 * what is known of the matrix: the row of a variable that stands still is that
 * of the unit matrix, the coil current depends on nothing else, and nothing
 * depends on the sensor. So the current comes first, then the gas and the
 * moving parts by a dense LU with row exchanges (8, 10 or 12 unknowns), then
 * the sensor. It is a solver of the library's generic kind. */
typedef struct {
    const Bench *b;
    const double *A;   /* as handed over, for the two single rows */
    int n, idx[N], piv[N];
    double lu[N * N];  /* by columns, the diagonal as reciprocals */
} Block;

static SUNLinearSolver_Type block_type(SUNLinearSolver S) {
    (void)S;
    return SUNLINEARSOLVER_DIRECT;
}

static int block_setup(SUNLinearSolver S, SUNMatrix Am) {
    Block *k = S->content;
    const double *A = k->A = SM_DATA_D(Am);
    int n = 0, *idx = k->idx;
    for (int c = 0; c < X; c++) idx[n++] = c;
    if (k->b->disc == FLYING) idx[n++] = X, idx[n++] = VX;
    if (k->b->plunger == FLYING) idx[n++] = SL, idx[n++] = WS;
    k->n = n;
    double *lu = k->lu;
    for (int c = 0; c < n; c++)
        for (int r = 0; r < n; r++) lu[c * n + r] = A[idx[c] * N + idx[r]];
    for (int c = 0; c < n; c++) {
        double *col = lu + c * n;
        int p = c;
        double big = fabs(col[c]);
        for (int r = c + 1; r < n; r++)
            if (fabs(col[r]) > big) big = fabs(col[p = r]);
        if (!(big > 0)) return c + 1;
        k->piv[c] = p;
        if (p != c)
            for (int q = 0; q < n; q++) {
                double t = lu[q * n + c];
                lu[q * n + c] = lu[q * n + p];
                lu[q * n + p] = t;
            }
        double inv = col[c] = 1 / col[c];
        for (int r = c + 1; r < n; r++) col[r] *= inv;
        for (int q = c + 1; q < n; q++) {
            double *to = lu + q * n, f = to[c];
            if (f != 0)
                for (int r = c + 1; r < n; r++) to[r] -= f * col[r];
        }
    }
    return 0;
}

static int block_solve(SUNLinearSolver S, SUNMatrix Am, N_Vector xv, N_Vector bv,
                       realtype tol) {
    (void)Am, (void)tol;
    Block *k = S->content;
    const double *A = k->A, *lu = k->lu, *b = NV_DATA_S(bv);
    double *x = NV_DATA_S(xv), z[N];
    int n = k->n;
    double i = b[I] / A[I * N + I];
    double q = b[Q], sx = b[X], sv = b[VX], ss = b[SL], sw = b[WS];
    for (int r = 0; r < n; r++) z[r] = b[k->idx[r]];
    if (k->b->plunger == FLYING) z[n - 1] -= A[I * N + WS] * i;
    for (int c = 0; c < n; c++) {
        int p = k->piv[c];
        double f = z[p];
        z[p] = z[c];
        z[c] = f;
    }
    for (int c = 0; c < n; c++) {
        double f = z[c];
        const double *col = lu + c * n;
        for (int r = c + 1; r < n; r++) z[r] -= f * col[r];
    }
    for (int c = n - 1; c >= 0; c--) {
        const double *col = lu + c * n;
        double f = z[c] *= col[c];
        for (int r = 0; r < c; r++) z[r] -= f * col[r];
    }
    x[X] = sx, x[VX] = sv, x[SL] = ss, x[WS] = sw, x[I] = i;
    for (int r = 0; r < n; r++) x[k->idx[r]] = z[r];
    x[Q] = (q - A[UV * N + Q] * x[UV]) / A[Q * N + Q];
    return 0;
}

static int block_free(SUNLinearSolver S) {
    free(S->content);
    S->content = NULL;
    SUNLinSolFreeEmpty(S);
    return 0;
}

static SUNLinearSolver block_solver(const Bench *b, SUNContext ctx) {
    SUNLinearSolver S = SUNLinSolNewEmpty(ctx);
    Block *k = calloc(1, sizeof *k);
    if (!S || !k) return NULL;
    k->b = b;
    S->content = k;
    S->ops->gettype = block_type;
    S->ops->setup = block_setup;
    S->ops->solve = block_solve;
    S->ops->free = block_free;
    return S;
}

/* The library's serial vector with its hot operations put in place by loops of
 * known length. Each builds its result aside, since operands may be the same. */
static void fix_sum(realtype a, N_Vector x, realtype b, N_Vector y, N_Vector z) {
    const double *u = NV_DATA_S(x), *v = NV_DATA_S(y);
    double t[N];
    for (int k = 0; k < N; k++) t[k] = a * u[k] + b * v[k];
    memcpy(NV_DATA_S(z), t, sizeof t);
}

static void fix_scale(realtype a, N_Vector x, N_Vector z) {
    const double *u = NV_DATA_S(x);
    double t[N];
    for (int k = 0; k < N; k++) t[k] = a * u[k];
    memcpy(NV_DATA_S(z), t, sizeof t);
}

static void fix_const(realtype a, N_Vector z) {
    double *w = NV_DATA_S(z);
    for (int k = 0; k < N; k++) w[k] = a;
}

static void fix_abs(N_Vector x, N_Vector z) {
    const double *u = NV_DATA_S(x);
    double t[N];
    for (int k = 0; k < N; k++) t[k] = fabs(u[k]);
    memcpy(NV_DATA_S(z), t, sizeof t);
}

static void fix_inv(N_Vector x, N_Vector z) {
    const double *u = NV_DATA_S(x);
    double t[N];
    for (int k = 0; k < N; k++) t[k] = 1 / u[k];
    memcpy(NV_DATA_S(z), t, sizeof t);
}

static realtype fix_norm(N_Vector x, N_Vector w) {
    const double *u = NV_DATA_S(x), *v = NV_DATA_S(w);
    double t[N], a = 0, b = 0;
    for (int k = 0; k < N; k++) {
        double q = u[k] * v[k];
        t[k] = q * q;
    }
    for (int k = 0; k < N; k += 2) a += t[k], b += t[k + 1];
    return sqrt((a + b) * (1.0 / N));
}

/* z[j] = a[j] x + y[j] */
static int fix_sums(int n, realtype *a, N_Vector x, N_Vector *y, N_Vector *z) {
    for (int j = 0; j < n; j++) fix_sum(a[j], x, 1, y[j], z[j]);
    return 0;
}

static int fix_combine(int n, realtype *a, N_Vector *x, N_Vector z) {
    const double *u = NV_DATA_S(x[0]);
    double t[N];
    for (int k = 0; k < N; k++) t[k] = a[0] * u[k];
    for (int j = 1; j < n; j++) {
        u = NV_DATA_S(x[j]);
        double f = a[j];
        for (int k = 0; k < N; k++) t[k] += f * u[k];
    }
    memcpy(NV_DATA_S(z), t, sizeof t);
    return 0;
}

static void fix_length(N_Vector y) {
    y->ops->nvlinearsum = fix_sum;
    y->ops->nvscale = fix_scale;
    y->ops->nvconst = fix_const;
    y->ops->nvabs = fix_abs;
    y->ops->nvinv = fix_inv;
    y->ops->nvwrmsnorm = fix_norm;
    y->ops->nvscaleaddmulti = fix_sums;
    y->ops->nvlinearcombination = fix_combine;
}

/* --------------------------------------------------------------- guards -- */

enum { G_SWITCH, G_DISC_LOW, G_DISC_HIGH, G_PL_LOW, G_PL_HIGH, NG };

/* Every guard is positive while its mode lasts and falls through zero at the
 * event. A guard that has no meaning in a mode is 1. */
static int guards(realtype t, N_Vector yv, realtype *g, void *user) {
    (void)t;
    const Bench *b = user;
    const double *y = NV_DATA_S(yv);

    g[G_SWITCH] = b->made ? y[Q] - b->p.reset : b->p.set - y[Q];
    g[G_DISC_LOW] = g[G_DISC_HIGH] = g[G_PL_LOW] = g[G_PL_HIGH] = 1;

    double pB = 0, pT = 0;
    if (b->disc != FLYING || b->plunger != FLYING) {
        Shape h = shape(b, y[X]);
        pB = b->gm1 * y[UC] / h.chamber;
        pT = b->gm1 * y[UT] / h.tail;
        if (b->disc != FLYING) {
            double pA = b->gm1 * y[UB] / h.body;
            double f = disc_force(b, y[X], h.phi, pA, pB, pT);
            if (b->disc == HELD_LOW)
                g[G_DISC_LOW] = b->p.discFc - f;
            else
                g[G_DISC_HIGH] = b->p.discFc + f;
        }
        if (b->plunger != FLYING) {
            double f = plunger_force(b, y[SL], y[I], pB, pT);
            if (b->plunger == HELD_LOW)
                g[G_PL_LOW] = -f;
            else
                g[G_PL_HIGH] = f;
        }
    }
    if (b->disc == FLYING) {
        g[G_DISC_LOW] = y[X];
        g[G_DISC_HIGH] = b->p.discMax - y[X];
    }
    if (b->plunger == FLYING) {
        g[G_PL_LOW] = y[SL];
        g[G_PL_HIGH] = b->p.plMax - y[SL];
    }
    return 0;
}

/* ------------------------------------------------------------------ run -- */

enum {
    SWITCH_MADE, SWITCH_RESET, COIL_ON, COIL_OFF,
    PILOT_LIFT, PILOT_BOUNCE, PILOT_OPEN, PILOT_DROP, PILOT_SHUT,
    DISC_LIFT, DISC_BOUNCE, DISC_FULL_OPEN, DISC_LEAVES_STOP, DISC_SEATED
};

static const char *const event_names[] = {
    "switch-made", "switch-reset", "coil-on", "coil-off",
    "pilot-lift", "pilot-bounce", "pilot-open", "pilot-drop", "pilot-shut",
    "disc-lift", "disc-bounce", "disc-full-open", "disc-leaves-stop",
    "disc-seated"};

typedef struct {
    double t, p; /* p: vessel pressure */
    int name;
} Event;

typedef struct {
    long steps, rhs, jac, setups;
} Stats;

enum { ANALYTIC, STORED, DIFFERENCES };

static const char *const jac_names[] = {"analytic", "stored", "fd"};

typedef struct {
    double rtol, until;
    int jac;               /* how the Newton matrix comes about, above */
    int block, fixed;      /* own linear solver, own vector operations */
    int maxord, lsfreq, jacfreq, nliters, stald, fused; /* the library's, 0 */
    double nlcoef, dgmax;                               /* leaves its value */
    int land;              /* step onto a relay's time, or interpolate there */
    int keep;              /* step on past an event that changes no equation */
    double flight;         /* first step after a bounce, of the flight ahead */
    double flightmax;      /* longest step in that flight, likewise */
    double restart;        /* first step after another event, of the last step */
    int jaccheck;
} Options;

typedef struct {
    Bench b;
    Options o;
    SUNContext ctx;
    N_Vector y, atol, y0, f;
    SUNMatrix J;
    SUNLinearSolver ls;
    void *cv;
    double t;
    Event *events;
    int nev, cap;
    Stats stats;
    double jacworst;
} Run;

static void die(const char *what, double t) {
    fprintf(stderr, "bench: %s at t = %.15g\n", what, t);
    exit(1);
}

static void must(int rc, const char *what) {
    if (rc < 0) {
        fprintf(stderr, "bench: %s failed (%d)\n", what, rc);
        exit(1);
    }
}

static void record(Run *r, int name) {
    if (r->nev == r->cap) {
        r->cap = r->cap ? 2 * r->cap : 1024;
        r->events = realloc(r->events, (size_t)r->cap * sizeof *r->events);
        if (!r->events) die("out of memory", r->t);
    }
    double p = r->b.vesselK * NV_Ith_S(r->y, UV);
    r->events[r->nev++] = (Event){r->t, p, name};
}

static void make_solver(Run *r, const Plant *plant) {
    Bench *b = &r->b;
    const Options *o = &r->o;
    derive(b, plant);
    must(SUNContext_Create(NULL, &r->ctx), "SUNContext_Create");
    r->y = N_VNew_Serial(N, r->ctx);
    r->y0 = N_VNew_Serial(N, r->ctx);
    r->f = N_VNew_Serial(N, r->ctx);
    r->atol = N_VNew_Serial(N, r->ctx);
    r->J = SUNDenseMatrix(N, N, r->ctx);
    r->ls = o->block ? block_solver(b, r->ctx)
                     : SUNLinSol_Dense(r->y, r->J, r->ctx);
    r->cv = CVodeCreate(CV_BDF, r->ctx);
    if (!r->y || !r->y0 || !r->f || !r->atol || !r->J || !r->ls || !r->cv)
        die("out of memory", 0);

    /* the start */
    const Plant *p = &b->p;
    double *y = NV_DATA_S(r->y0), V[4], P[4];
    V[0] = p->vesselV, V[1] = p->lineV, V[2] = p->chamberV, V[3] = p->tailV;
    P[0] = P[1] = P[2] = p->vesselP, P[3] = p->atmP;
    for (int k = 0; k < 4; k++) {
        y[2 * k] = P[k] * V[k] / (p->R * p->startT);
        y[2 * k + 1] = P[k] * V[k] / b->gm1;
    }
    y[X] = y[VX] = y[SL] = y[WS] = y[I] = 0;
    y[Q] = p->vesselP;

    /* absolute tolerance: rtol times the usual size of each variable */
    double *a = NV_DATA_S(r->atol);
    for (int k = 0; k < X; k++) a[k] = y[k];
    a[X] = p->discMax, a[VX] = 1, a[SL] = p->plMax, a[WS] = 1;
    a[I] = p->coilV > 0 ? p->coilV / p->coilR : 1;
    a[Q] = p->set;
    for (int k = 0; k < N; k++) a[k] *= o->rtol;

    N_VScale(1, r->y0, r->y);
    if (o->fixed) fix_length(r->y);
    if (o->fused) must(N_VEnableFusedOps_Serial(r->y, SUNTRUE), "fused operations");
    must(CVodeInit(r->cv, rhs, 0, r->y), "CVodeInit");
    must(CVodeSVtolerances(r->cv, o->rtol, r->atol), "CVodeSVtolerances");
    must(CVodeSetUserData(r->cv, b), "CVodeSetUserData");
    must(CVodeSetLinearSolver(r->cv, r->ls, r->J), "CVodeSetLinearSolver");
    if (o->jac == ANALYTIC) must(CVodeSetLinSysFn(r->cv, newton_matrix), "CVodeSetLinSysFn");
    if (o->jac == STORED) must(CVodeSetJacFn(r->cv, jacobian), "CVodeSetJacFn");
    must(CVodeRootInit(r->cv, NG, guards), "CVodeRootInit");
    int down[NG] = {-1, -1, -1, -1, -1};
    must(CVodeSetRootDirection(r->cv, down), "CVodeSetRootDirection");
    must(CVodeSetNoInactiveRootWarn(r->cv), "CVodeSetNoInactiveRootWarn");
    must(CVodeSetMaxNumSteps(r->cv, 1000000000L), "CVodeSetMaxNumSteps");
    must(CVodeSetMaxErrTestFails(r->cv, 20), "CVodeSetMaxErrTestFails");
    if (o->maxord) must(CVodeSetMaxOrd(r->cv, o->maxord), "CVodeSetMaxOrd");
    if (o->lsfreq) must(CVodeSetLSetupFrequency(r->cv, o->lsfreq), "CVodeSetLSetupFrequency");
    if (o->jacfreq) must(CVodeSetJacEvalFrequency(r->cv, o->jacfreq), "CVodeSetJacEvalFrequency");
    if (o->nliters) must(CVodeSetMaxNonlinIters(r->cv, o->nliters), "CVodeSetMaxNonlinIters");
    if (o->nlcoef > 0) must(CVodeSetNonlinConvCoef(r->cv, o->nlcoef), "CVodeSetNonlinConvCoef");
    if (o->dgmax > 0) must(CVodeSetDeltaGammaMaxLSetup(r->cv, o->dgmax), "CVodeSetDeltaGammaMaxLSetup");
    if (o->stald) must(CVodeSetStabLimDet(r->cv, SUNTRUE), "CVodeSetStabLimDet");
}

static void free_solver(Run *r) {
    CVodeFree(&r->cv);
    SUNLinSolFree(r->ls);
    SUNMatDestroy(r->J);
    N_VDestroy(r->y);
    N_VDestroy(r->y0);
    N_VDestroy(r->f);
    N_VDestroy(r->atol);
    SUNContext_Free(&r->ctx);
}

/* The solver's counters start anew at each restart: add them up before. */
static void count(Run *r) {
    long n = 0;
    CVodeGetNumSteps(r->cv, &n), r->stats.steps += n;
    if (n == 0) return;
    CVodeGetNumLinSolvSetups(r->cv, &n), r->stats.setups += n;
    if (r->o.jac == ANALYTIC) return;
    CVodeGetNumJacEvals(r->cv, &n), r->stats.jac += n;
}

/* A part has met a stop: pos is put on it, vel turned round. out is the
 * direction away from the stop, force that without friction, in positive
 * coordinates. Tells whether the part is held. */
static int meet(double *pos, double *vel, double stop, double out, double e,
                double hold, double force) {
    *pos = stop;
    *vel = out * e * fabs(*vel);
    if (fabs(*vel) < hold && force * out < 0) {
        *vel = 0;
        return 1;
    }
    return 0;
}

/* The time a part just thrown back will need to return, if its acceleration
 * stays what it is: the first step must be well below it. 0: it does not
 * return. */
static double flight(Run *r, int vel, double out) {
    if (rhs(r->t, r->y, r->f, &r->b)) die("impossible state", r->t);
    double v = NV_Ith_S(r->y, vel) * out, a = NV_Ith_S(r->f, vel) * out;
    return a < 0 ? -2 * v / a : 0;
}

/* One guard has reached zero. Returns the flight time ahead, if any. */
static double act(Run *r, int guard) {
    Bench *b = &r->b;
    const Plant *p = &b->p;
    double *y = NV_DATA_S(r->y);
    int held;

    if (guard == G_SWITCH) {
        b->made = !b->made;
        record(r, b->made ? SWITCH_MADE : SWITCH_RESET);
        b->pending = b->made != b->on;
        b->pending_at = r->t + (b->made ? p->relayOn : p->relayOff);
        return 0;
    }
    Shape h = shape(b, y[X]);
    double pA = b->gm1 * y[UB] / h.body, pB = b->gm1 * y[UC] / h.chamber;
    double pT = b->gm1 * y[UT] / h.tail;

    if (guard == G_DISC_LOW || guard == G_DISC_HIGH) {
        int low = guard == G_DISC_LOW;
        if (b->disc != FLYING) {
            b->disc = FLYING;
            record(r, low ? DISC_LIFT : DISC_LEAVES_STOP);
            return 0;
        }
        double f = disc_force(b, y[X], h.phi, pA, pB, pT);
        held = meet(&y[X], &y[VX], low ? 0 : p->discMax, low ? 1 : -1,
                    p->discE, p->discHold, f);
        if (held) {
            b->disc = low ? HELD_LOW : HELD_HIGH;
            record(r, low ? DISC_SEATED : DISC_FULL_OPEN);
            return 0;
        }
        record(r, DISC_BOUNCE);
        return flight(r, VX, low ? 1 : -1);
    }
    int low = guard == G_PL_LOW;
    if (b->plunger != FLYING) {
        b->plunger = FLYING;
        record(r, low ? PILOT_LIFT : PILOT_DROP);
        return 0;
    }
    double f = plunger_force(b, y[SL], y[I], pB, pT);
    held = meet(&y[SL], &y[WS], low ? 0 : p->plMax, low ? 1 : -1, p->plE,
                p->plHold, f);
    if (held) {
        b->plunger = low ? HELD_LOW : HELD_HIGH;
        record(r, low ? PILOT_SHUT : PILOT_OPEN);
        return 0;
    }
    record(r, PILOT_BOUNCE);
    return flight(r, WS, low ? 1 : -1);
}

/* The relay's time has come. */
static void switch_coil(Run *r) {
    Bench *b = &r->b;
    b->pending = 0;
    b->on = !b->on;
    record(r, b->on ? COIL_ON : COIL_OFF);
}

static void check_jacobian(Run *r);

/* One run from the start to o.until. Everything in here is timed. */
static void run(Run *r) {
    Bench *b = &r->b;
    const Options *o = &r->o;
    const double *y = NV_DATA_S(r->y);

    r->t = 0;
    r->nev = 0;
    r->stats = (Stats){0, 0, 0, 0};
    b->disc = b->plunger = HELD_LOW;
    b->made = b->on = b->pending = 0;
    b->nrhs = b->njac = 0;
    N_VScale(1, r->y0, r->y);
    must(CVodeReInit(r->cv, 0, r->y), "CVodeReInit");

    int fresh = 1;         /* the right-hand side has changed */
    double air = 0;        /* shortest flight ahead */
    for (;;) {
        /* what is due at once */
        for (int again = 1; again;) {
            again = 0;
            if (b->pending && b->pending_at <= r->t) {
                switch_coil(r);
                again = fresh = 1;
            }
            double g[NG];
            guards(r->t, r->y, g, b);
            for (int k = 0; k < NG; k++) {
                int flying = k == G_DISC_LOW || k == G_DISC_HIGH
                                 ? b->disc == FLYING
                                 : k != G_SWITCH && b->plunger == FLYING;
                if (g[k] >= 0) continue;
                if (flying) {
                    /* contacts are located, never found behind the stop */
                    if (g[k] < -1e-9) die("a contact was missed", r->t);
                    continue;
                }
                act(r, k);
                again = 1;
                if (k != G_SWITCH) fresh = 1;
            }
        }
        if (r->t >= o->until) break;

        if (fresh || !o->keep) {
            double first = air > 0 ? o->flight * air : 0;
            if (first == 0 && o->restart > 0) {
                double h = 0;
                CVodeGetLastStep(r->cv, &h);
                first = o->restart * h;
            }
            count(r);
            must(CVodeReInit(r->cv, r->t, r->y), "CVodeReInit");
            must(CVodeSetInitStep(r->cv, first), "CVodeSetInitStep");
            must(CVodeSetMaxStep(r->cv, o->flightmax * air), "CVodeSetMaxStep");
            fresh = 0;
        }
        air = 0;

        double end = o->until, now = 0;
        if (b->pending && b->pending_at < end) end = b->pending_at;
        must(CVodeGetCurrentTime(r->cv, &now), "CVodeGetCurrentTime");
        /* A switch changes nothing in the equations, so the solver may have
         * stepped past the relay's time already: then it interpolates. */
        if (o->land && end > now)
            must(CVodeSetStopTime(r->cv, end), "CVodeSetStopTime");
        int rc = CVode(r->cv, end, r->y, &r->t,
                       o->jaccheck ? CV_ONE_STEP : CV_NORMAL);
        if (rc < 0) die("CVode failed", r->t);
        if (o->jaccheck) check_jacobian(r);
        if (rc == CV_ROOT_RETURN) {
            int hit[NG];
            must(CVodeGetRootInfo(r->cv, hit), "CVodeGetRootInfo");
            for (int k = 0; k < NG; k++) {
                if (!hit[k]) continue;
                double a = act(r, k);
                if (k != G_SWITCH) fresh = 1;
                if (a > 0 && (air == 0 || a < air)) air = a;
            }
        } else if (rc == CV_TSTOP_RETURN) {
            r->t = end;
        }
        if (!(y[UV] > 0)) die("impossible state", r->t);
    }
    count(r);
    r->stats.rhs = b->nrhs;
    if (o->jac == ANALYTIC) r->stats.jac = b->njac;
}

/* Sets the analytic Jacobian against central differences at the state just
 * reached. Entries are scaled by the usual size of their column and compared
 * with the largest of their row. Where the two one-sided differences disagree
 * the flow law has a kink within the increment, and the entry is passed over. */
static long checked, skipped;

static void check_jacobian(Run *r) {
    Bench *b = &r->b;
    double *y = NV_DATA_S(r->y), *f = NV_DATA_S(r->f), *J = SM_DATA_D(r->J);
    double size[N], f0[N], fp[N], fm[N], D[N][N], lo[N][N], big[N] = {0};
    long nrhs = b->nrhs;
    SUNMatrix keep = SUNMatClone(r->J);
    SUNMatCopy(r->J, keep);
    SUNMatZero(r->J);
    if (rhs(r->t, r->y, r->f, b)) die("impossible state", r->t);
    memcpy(f0, f, sizeof f0);
    if (fill_jacobian(b, y, J)) die("impossible state", r->t);
    for (int c = 0; c < N; c++) {
        size[c] = NV_Ith_S(r->atol, c) / r->o.rtol;
        double was = y[c], h = 1e-7 * (fabs(was) > 0 && c < X ? was : size[c]);
        y[c] = was + h;
        int bad = rhs(r->t, r->y, r->f, b);
        memcpy(fp, f, sizeof fp);
        y[c] = was - h;
        bad |= rhs(r->t, r->y, r->f, b);
        memcpy(fm, f, sizeof fm);
        y[c] = was;
        if (bad) die("impossible state", r->t);
        int still = ((c == X || c == VX) && b->disc != FLYING) ||
                    ((c == SL || c == WS) && b->plunger != FLYING);
        for (int k = 0; k < N; k++) {
            D[k][c] = still ? 0 : (fp[k] - fm[k]) / (2 * h);
            lo[k][c] = still ? 0 : fabs(fp[k] + fm[k] - 2 * f0[k]) / h;
            double a = fabs(J[c * N + k]) * size[c];
            if (a > big[k]) big[k] = a;
        }
    }
    for (int k = 0; k < N; k++)
        for (int c = 0; c < N; c++) {
            if (big[k] == 0 && D[k][c] == 0) continue;
            if (lo[k][c] * size[c] > 1e-3 * big[k] && big[k] > 0) {
                skipped++;
                continue;
            }
            double e = fabs(D[k][c] - J[c * N + k]) * size[c] / big[k];
            checked++;
            if (!(e <= r->jacworst)) r->jacworst = e;
        }
    SUNMatCopy(keep, r->J);
    SUNMatDestroy(keep);
    b->nrhs = nrhs;
}

/* -------------------------------------------------------------- program -- */

static double cpu(void) {
    struct timespec ts;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &ts);
    return (double)ts.tv_sec + 1e-9 * (double)ts.tv_nsec;
}

static int by_size(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static void print_pressures(const Run *r, int name) {
    const char *sep = "";
    for (int k = 0; k < r->nev; k++)
        if (r->events[k].name == name) {
            printf("%s%.15g", sep, r->events[k].p);
            sep = ", ";
        }
}

static void print_run(const Run *r, double seconds, int quiet) {
    printf("{\n  \"rtol\": %g,\n  \"until\": %.15g,\n", r->o.rtol, r->o.until);
    if (!quiet) {
        printf("  \"events\": [");
        for (int k = 0; k < r->nev; k++)
            printf("%s\n    {\"t\": %.15g, \"name\": \"%s\"}", k ? "," : "",
                   r->events[k].t, event_names[r->events[k].name]);
        printf("\n  ],\n  \"final\": {");
        for (int k = 0; k < N; k++)
            printf("%s\n    \"%s\": %.15g", k ? "," : "", state_names[k],
                   NV_Ith_S(r->y, k));
        printf("\n  },\n");
    }
    printf("  \"stats\": {\"steps\": %ld, \"rhs\": %ld, \"jac\": %ld, "
           "\"setups\": %ld},\n",
           r->stats.steps, r->stats.rhs, r->stats.jac, r->stats.setups);
    printf("  \"cpu_s\": %.6g", seconds);
    if (!quiet) {
        printf(",\n  \"lift_pressures\": [");
        print_pressures(r, DISC_LIFT);
        printf("],\n  \"reseat_pressures\": [");
        print_pressures(r, DISC_SEATED);
        printf("]");
    }
    printf("\n}\n");
}

static void usage(const char *why, const char *what) {
    fprintf(stderr, "bench: %s%s%s\n", why, what ? ": " : "", what ? what : "");
    fprintf(stderr,
            "usage: bench [--rtol 1e-6] [--until 60] [--repeat 1] [--quiet]\n"
            "             [--set name=value ...] [--parts library|own]\n"
            "             [--jac analytic|stored|fd] [--check-jac]\n"
            "solver options, 0 leaves the library's own value:\n"
            "             [--linsol dense|block] [--vector serial|fixed]\n"
            "             [--maxord n] [--lsfreq n] [--jacfreq n] [--nliters n]\n"
            "             [--nlcoef c] [--dgmax c] [--stald 0|1] [--fused 0|1]\n"
            "             [--land 0|1] [--keep 0|1] [--flight c] [--flightmax c]\n"
            "             [--restart c]\n"
            "names for --set, in SI units:\n");
    for (size_t k = 0; k < sizeof settings / sizeof *settings; k++)
        fprintf(stderr, "  %s\n", settings[k].name);
    exit(2);
}

static double number(const char *text, const char *what) {
    char *end;
    double v = strtod(text, &end);
    if (end == text || *end || !isfinite(v)) usage("not a number", what);
    return v;
}

static void set(Plant *p, const char *arg) {
    const char *eq = strchr(arg, '=');
    if (!eq) usage("--set wants name=value", arg);
    for (size_t k = 0; k < sizeof settings / sizeof *settings; k++) {
        const char *name = settings[k].name;
        if (strlen(name) != (size_t)(eq - arg) ||
            strncmp(name, arg, (size_t)(eq - arg)))
            continue;
        double v = number(eq + 1, arg);
        if (settings[k].range == POSITIVE && !(v > 0))
            usage("must be above zero", arg);
        if (settings[k].range == NOT_NEGATIVE && !(v >= 0))
            usage("must not be negative", arg);
        *(double *)((char *)p + settings[k].at) = v;
        return;
    }
    usage("unknown name", arg);
}

int main(int argc, char **argv) {
    Plant plant = gas_bench;
    Run r = {0};
    r.o = (Options){.rtol = 1e-6, .until = 60, .land = 1, .keep = 1,
                    .nlcoef = 0.5, .flight = 0.02, .flightmax = 0.2};
    int repeat = 1, quiet = 0;

    for (int k = 1; k < argc; k++) {
        const char *a = argv[k];
        if (!strcmp(a, "--quiet")) {
            quiet = 1;
            continue;
        }
        if (!strcmp(a, "--check-jac")) {
            r.o.jaccheck = 1;
            continue;
        }
        if (k + 1 == argc) usage("unknown option, or its value is missing", a);
        const char *v = argv[++k];
        if (!strcmp(a, "--set")) {
            set(&plant, v);
            while (k + 1 < argc && strncmp(argv[k + 1], "--", 2))
                set(&plant, argv[++k]);
        } else if (!strcmp(a, "--jac")) {
            for (r.o.jac = 0; strcmp(v, jac_names[r.o.jac]);)
                if (++r.o.jac > DIFFERENCES)
                    usage("--jac wants analytic, stored or fd", v);
        } else if (!strcmp(a, "--parts")) {
            if (strcmp(v, "library") && strcmp(v, "own"))
                usage("--parts wants library or own", v);
            r.o.block = r.o.fixed = !strcmp(v, "own");
        } else if (!strcmp(a, "--linsol")) {
            if (strcmp(v, "dense") && strcmp(v, "block"))
                usage("--linsol wants dense or block", v);
            r.o.block = !strcmp(v, "block");
        } else if (!strcmp(a, "--vector")) {
            if (strcmp(v, "serial") && strcmp(v, "fixed"))
                usage("--vector wants serial or fixed", v);
            r.o.fixed = !strcmp(v, "fixed");
        } else if (!strcmp(a, "--rtol")) r.o.rtol = number(v, a);
        else if (!strcmp(a, "--until")) r.o.until = number(v, a);
        else if (!strcmp(a, "--repeat")) repeat = (int)number(v, a);
        else if (!strcmp(a, "--maxord")) r.o.maxord = (int)number(v, a);
        else if (!strcmp(a, "--lsfreq")) r.o.lsfreq = (int)number(v, a);
        else if (!strcmp(a, "--jacfreq")) r.o.jacfreq = (int)number(v, a);
        else if (!strcmp(a, "--nliters")) r.o.nliters = (int)number(v, a);
        else if (!strcmp(a, "--stald")) r.o.stald = (int)number(v, a);
        else if (!strcmp(a, "--fused")) r.o.fused = (int)number(v, a);
        else if (!strcmp(a, "--land")) r.o.land = (int)number(v, a);
        else if (!strcmp(a, "--keep")) r.o.keep = (int)number(v, a);
        else if (!strcmp(a, "--nlcoef")) r.o.nlcoef = number(v, a);
        else if (!strcmp(a, "--dgmax")) r.o.dgmax = number(v, a);
        else if (!strcmp(a, "--flight")) r.o.flight = number(v, a);
        else if (!strcmp(a, "--flightmax")) r.o.flightmax = number(v, a);
        else if (!strcmp(a, "--restart")) r.o.restart = number(v, a);
        else usage("unknown option", a);
    }
    if (!(r.o.rtol > 0)) usage("--rtol must be above zero", NULL);
    if (!(r.o.until > 0)) usage("--until must be above zero", NULL);
    if (repeat < 1) usage("--repeat must be at least 1", NULL);
    if (plant.gamma <= 1) usage("gas.gamma must be above 1", NULL);
    if (plant.guideD <= plant.seatD)
        usage("guide.diameter must be above seat.diameter", NULL);
    if (plant.set <= plant.reset)
        usage("switch.set must be above switch.reset", NULL);
    if (plant.chamberV <= M_PI / 4 * plant.guideD * plant.guideD * plant.discMax)
        usage("chamber.volume must be above what the disc sweeps", NULL);

    double *secs = malloc((size_t)repeat * sizeof *secs);
    if (!secs) die("out of memory", 0);
    make_solver(&r, &plant);
    for (int k = 0; k < repeat; k++) {
        double t0 = cpu();
        run(&r);
        secs[k] = cpu() - t0;
    }
    qsort(secs, (size_t)repeat, sizeof *secs, by_size);
    double median = repeat % 2 ? secs[repeat / 2]
                               : 0.5 * (secs[repeat / 2 - 1] + secs[repeat / 2]);
    int status = 0;
    if (r.o.jaccheck) {
        printf("{\"entries\": %ld, \"passed_over\": %ld, \"worst\": %.3g}\n",
               checked, skipped, r.jacworst);
        status = !(r.jacworst < 1e-4) || checked == 0;
    } else {
        print_run(&r, median, quiet);
    }
    free_solver(&r);
    free(r.events);
    free(secs);
    return status;
}
