#include "equations.h"

#include <math.h>
#include <string.h>

#define PI 3.14159265358979323846
#define CYCLE (4 * PI)

/* Dry air, 200 to 1000 K; constant cp beyond. */
static double R, A[7];

static void air(void)
{
	static const double share[3] = {0.78084, 0.20946, 0.00970};
	static const double molar[3] = {28.0134e-3, 31.9988e-3, 39.948e-3};
	static const double fit[3][7] = {
		{2.210371497e4, -3.818461820e2, 6.082738360, -8.530914410e-3, 1.384646189e-5, -9.625793620e-9, 2.519705809e-12},
		{-3.425563420e4, 4.847000970e2, 1.119010961, 4.293889240e-3, -6.836300520e-7, -2.023372700e-9, 1.039040018e-12},
		{0, 0, 2.5, 0, 0, 0, 0},
	};
	double mass = 0;
	for (int i = 0; i < 3; i++)
		mass += share[i] * molar[i];
	R = 8.31446261815324 / mass;
	for (int k = 0; k < 7; k++) {
		A[k] = 0;
		for (int i = 0; i < 3; i++)
			A[k] += R * share[i] * fit[i][k];
	}
}

static double cp(double t)
{
	t = fmin(fmax(t, 200), 1000);
	double x = 1 / t;
	return A[2] + x * (A[1] + x * A[0]) + t * (A[3] + t * (A[4] + t * (A[5] + t * A[6])));
}

static double enthalpy(double t)
{
	double in = fmin(fmax(t, 200), 1000);
	double h = -A[0] / in + A[1] * log(in) + in * (A[2] + in * (A[3] / 2 + in * (A[4] / 3 + in * (A[5] / 4 + in * A[6] / 5))));
	return in == t ? h : h + cp(in) * (t - in);
}

/* Flow through an opening; root_rt is the root of R times the temperature before it. */
static double orifice(double area, double before, double root_rt, double after)
{
	const double psi0 = sqrt(7.0), critical = 0.52828178771717416, choked = 0.68473145640630836;
	double x = 1 - after / before, flow = area * before / root_rt;
	if (x >= 1 - critical)
		return flow * choked;
	double root = x / sqrt(x + 2e-5);
	double ln = log1p(-root * root);
	return flow * psi0 * exp(ln / 1.4) * sqrt(-expm1(ln * (0.4 / 1.4)));
}

double model_wrap(double a)
{
	a = fmod(a + 2 * PI, CYCLE);
	return (a < 0 ? a + CYCLE : a) - 2 * PI;
}

static void volume(const struct model *m, double a, double *swept, double *slope)
{
	double s = sin(a), c = cos(a), side = m->throw * s - m->offset;
	double root = sqrt(m->rod * m->rod - side * side);
	*swept = m->face * (m->top - m->throw * c - root);
	*slope = m->face * m->throw * (s + side * c / root);
}

static double lobe(const struct valves *v, double a)
{
	double x = model_wrap(a - v->centre) / v->half;
	if (x <= -1 || x >= 1)
		return v->seat;
	double rest = 1 - x * x, curtain = v->curtain * v->lift * rest * rest;
	return v->seat + v->count * curtain * v->throat / sqrt(curtain * curtain + v->throat * v->throat);
}

/* Gas in a volume and what flows into it. */
struct store {
	double m, t, p, h, root, volume, mass, power;
};

static void open_store(struct store *s, const struct model *m, const double *y, double vol)
{
	s->m = y[0] * m->mass;
	s->t = 300 * y[1];
	s->p = s->m * R * s->t / vol;
	s->h = enthalpy(s->t);
	s->root = sqrt(R * s->t);
	s->volume = vol;
	s->mass = s->power = 0;
}

static void take(struct store *s, double flow, double h)
{
	s->mass += flow;
	s->power += flow * h;
}

static void meet(struct store *s, double area, double p, double root, double h)
{
	if (area == 0)
		return;
	if (s->p < p)
		take(s, orifice(area, p, root, s->p), h);
	else
		take(s, -orifice(area, s->p, s->root, p), s->h);
}

static void join(struct store *s, double area, struct store *other)
{
	if (area == 0)
		return;
	double flow, h;
	if (s->p < other->p) {
		flow = orifice(area, other->p, other->root, s->p);
		h = other->h;
	} else {
		flow = -orifice(area, s->p, s->root, other->p);
		h = s->h;
	}
	take(s, flow, h);
	take(other, -flow, h);
}

static void close_store(const struct store *s, const struct model *m, double power, double *out)
{
	double u = s->h - R * s->t;
	out[0] = s->mass / m->mass;
	out[1] = (power + s->power - s->mass * u) / (s->m * (cp(s->t) - R) * 300);
}

void model_motion(const struct model *m, double t, const double *y, double *angle, double *speed)
{
	if (m->free) {
		*angle = y[m->at_crank];
		*speed = y[m->at_crank + 1];
		return;
	}
	*angle = m->start + m->driven * fmax(0, t - TICK);
	*speed = m->still ? 0 : m->driven;
}

double model_pressure(const struct model *m, int i, double angle, const double *y)
{
	double swept, slope;
	volume(m, angle - m->cylinder[i].firing, &swept, &slope);
	return y[2 * i] * m->mass * R * 300 * y[2 * i + 1] / (swept + m->cylinder[i].clearance);
}

double model_hose(const struct model *m, const double *y)
{
	return m->gauged ? y[m->at_hose] * m->mass * R * 300 * y[m->at_hose + 1] / m->hose : 0;
}

/* What the gauged cylinder has over the hose beyond the tip valve's opening. */
double model_lift(const struct model *m, double t, const double *y)
{
	double angle, speed;
	model_motion(m, t, y, &angle, &speed);
	return model_pressure(m, m->gauged - 1, angle, y) - m->valve_opening - model_hose(m, y);
}

/* What cylinder 1 has over ambient. */
double model_over(const struct model *m, double t, const double *y)
{
	double angle, speed;
	model_motion(m, t, y, &angle, &speed);
	return model_pressure(m, 0, angle, y) - m->ambient;
}

#define REST 1e-9 /* speed of a crank that stands [rad/s] */

/* Torque of motor and friction on the crank, and how fast the current changes. */
static void torques(const struct model *m, const double *y, double *motor, double *rub, double *change)
{
	const double *c = y + m->at_crank;
	double speed = c[1], pinion = (m->locked ? speed : c[2]) * m->ratio, amps = 100 * c[5];
	double volts = 11.89 + (12.65 - 11.89) * c[3] - 0.13 / 45 * (300.15 - m->kelvin) - c[4];
	double ohms = m->full / (0.25 + 0.75 * c[3]) * m->ohmic + m->leads + m->resistance;
	double x = amps / m->saturation, k = m->constant / (1 + x * x);
	*change = (volts - k * pinion - amps * ohms) / m->inductance;
	*motor = m->ratio * (k * amps - m->drag - m->windage * pinion * pinion);
	if (pinion <= 0)
		*motor = fmax(0, *motor);
	*rub = copysign(m->friction * (0.6 + 0.4 * sqrt(m->hydro * fabs(speed))), speed);
}

static void turn(const struct model *m, const double *y, double gas, double *out)
{
	double motor, rub, change;
	torques(m, y, &motor, &rub, &change);
	const double *c = y + m->at_crank;
	if (fabs(c[1]) < REST && fabs(gas + motor) < fabs(rub))
		rub = gas + motor; /* not yet enough to turn it */
	out[0] = c[1];
	if (m->coast > 0) { /* until it stops */
		out[1] = (gas - fabs(rub)) / m->inertia;
		out[2] = out[3] = out[4] = out[5] = 0;
		return;
	}
	if (m->locked) {
		out[1] = out[2] = (gas + motor - rub) / (m->inertia + m->armature);
	} else {
		out[1] = (gas - rub) / m->inertia;
		out[2] = motor / m->armature;
	}
	out[3] = -100 * c[5] / m->capacity;
	out[4] = (100 * c[5] * m->full / (0.25 + 0.75 * c[3]) * 0.4 - c[4]) / 6.0;
	out[5] = change / 100;
}

/* Changes sign when the clutch lets go (locked) or catches (free). */
double model_clutch(const struct model *m, const double *y)
{
	const double *c = y + m->at_crank;
	if (!m->locked)
		return c[2] - c[1];
	if (m->coast > 0 || fabs(c[1]) < REST)
		return 1; /* no starter, or both stand */
	double gas = 0, motor, rub, change;
	for (int i = 0; i < m->cylinders; i++) {
		double swept, slope;
		volume(m, c[0] - m->cylinder[i].firing, &swept, &slope);
		gas += (model_pressure(m, i, c[0], y) - m->ambient) * slope;
	}
	torques(m, y, &motor, &rub, &change);
	return motor - m->armature * (gas + motor - rub) / (m->inertia + m->armature);
}

static void tip(const struct model *m, struct store *gas, struct store *hose)
{
	double driven = gas->p - m->valve_opening;
	if (driven <= hose->p)
		return;
	double flow = orifice(m->valve_area, driven, gas->root, hose->p);
	take(gas, -flow, gas->h);
	take(hose, flow, gas->h);
}

void model_rates(struct model *m, double t, const double *y, double *out)
{
	double angle, speed, torque = 0;
	double root_ambient = sqrt(R * m->t_ambient), root_wall = sqrt(R * m->t_wall);
	struct store gas, plenum = {0}, hose = {0};
	m->calls++;
	model_motion(m, t, y, &angle, &speed);
	if (m->breathes)
		open_store(&plenum, m, y + m->at_plenum, m->plenum);
	if (m->gauged)
		open_store(&hose, m, y + m->at_hose, m->hose);
	double stir = m->heat * 130 * pow(m->stroke * fabs(speed) / PI + 1.4, 0.8);
	for (int i = 0; i < m->cylinders; i++) {
		const struct cylinder *c = m->cylinder + i;
		double swept, slope, a = angle - c->firing, film = m->films ? y[m->at_film + i] : c->film;
		volume(m, a, &swept, &slope);
		open_store(&gas, m, y + 2 * i, swept + c->clearance);
		meet(&gas, c->rings * (m->dry + (1 - m->dry) * film), m->ambient, root_wall, m->h_wall);
		if (m->breathes) {
			join(&gas, lobe(&c->intake, a), &plenum);
			meet(&gas, lobe(&c->exhaust, a), m->ambient, root_wall, m->h_wall);
		}
		if (c->plug == PLUG_OUT)
			meet(&gas, m->plug_hole, m->ambient, root_ambient, m->h_ambient);
		if (c->plug == PLUG_GAUGE)
			tip(m, &gas, &hose);
		double bar = gas.p * 1e-5;
		double h = stir * exp(-0.06 * log(m->chamber + swept) + 0.4 * log(bar * bar / gas.t));
		double loss = h * (2.1 * m->face + gas.volume * m->liner) * (gas.t - m->t_wall);
		close_store(&gas, m, -loss - gas.p * slope * speed, out + 2 * i);
		torque += (gas.p - m->ambient) * slope;
		if (m->films)
			out[m->at_film + i] = fabs(speed) / m->build * (1 - film);
	}
	if (m->breathes) {
		meet(&plenum, m->throttle, m->ambient, root_ambient, m->h_ambient);
		close_store(&plenum, m, m->manifold * (m->t_wall - plenum.t), out + m->at_plenum);
	}
	if (m->gauged)
		close_store(&hose, m, m->hose_wall * (m->t_ambient - hose.t), out + m->at_hose);
	if (m->free)
		turn(m, y, torque, out + m->at_crank);
}

int model_edges(const struct model *m, double *angles)
{
	int n = 0;
	for (int i = 0; m->breathes && i < m->cylinders; i++) {
		const struct cylinder *c = m->cylinder + i;
		const struct valves *both[2] = {&c->intake, &c->exhaust};
		for (int k = 0; k < 2; k++) {
			angles[n++] = c->firing + both[k]->centre - both[k]->half;
			angles[n++] = c->firing + both[k]->centre + both[k]->half;
		}
	}
	return n;
}

/* What follows from the parameters. The reader has put them into m as they are. */
double model_walther(double cold, double hot, double kelvin);
void model_prepare(struct model *m, double compression, double adapter, double cca, double age);

double model_walther(double cold, double hot, double kelvin)
{
	double w0 = log(log(cold * 1e6 + 0.7)), w1 = log(log(hot * 1e6 + 0.7));
	double x = (log(kelvin) - log(313.15)) / (log(373.15) - log(313.15));
	return (exp(exp(fmin(w0 + (w1 - w0) * x, 2.6))) - 0.7) * 1e-6;
}

static void still_gas(const struct model *m, double vol, double t, double *y)
{
	y[0] = m->ambient * vol / (R * t) / m->mass;
	y[1] = t / 300;
}

void model_prepare(struct model *m, double compression, double adapter, double cca, double age)
{
	air();
	m->h_ambient = enthalpy(m->t_ambient);
	m->h_wall = enthalpy(m->t_wall);
	double rated = (11.89 + (12.65 - 11.89) - 0.13 / 45 * (300.15 - 255.15) - 7.2) / cca;
	m->full = rated / 2 * pow(2, (298.15 - m->kelvin) / (298.15 - 255.15)) * age;
	m->ohmic = 1 - 0.4 * (1 - exp(-30 / 6.0));
	m->chamber = m->swept / (compression - 1);
	m->mass = m->ambient * m->swept / (R * m->t_ambient);
	int n = 0;
	for (int i = 0; i < m->cylinders; i++, n += 2) {
		struct cylinder *c = m->cylinder + i;
		double swept, slope;
		c->clearance += m->chamber + (c->plug == PLUG_GAUGE ? adapter : 0);
		volume(m, m->start - c->firing, &swept, &slope);
		still_gas(m, swept + c->clearance, m->t_wall, m->y0 + n);
	}
	if (m->breathes) {
		m->at_plenum = n;
		still_gas(m, m->plenum, m->t_ambient, m->y0 + n);
		n += 2;
	}
	if (m->gauged) {
		m->at_hose = n;
		still_gas(m, m->hose, m->t_ambient, m->y0 + n);
		n += 2;
	}
	if (m->films) {
		m->at_film = n;
		for (int i = 0; i < m->cylinders; i++)
			m->y0[n++] = m->cylinder[i].film;
	}
	if (m->free) {
		m->at_crank = n;
		double crank[6] = {m->start, m->coast, 0, m->charge, 0, 0};
		memcpy(m->y0 + n, crank, sizeof crank);
		n += 6;
	}
	m->states = n;
}
