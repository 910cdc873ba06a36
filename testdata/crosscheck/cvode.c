/* Solves the problems of problems.json with SUNDIALS CVODE.
 *
 *   cvode PROBLEMS once [NAME...]    one run at a tolerance of 1e-9
 *   cvode PROBLEMS sweep [NAME...]   times ways and tolerances
 *
 * Every run prints one JSON line. Ways of a sweep: BDF and Adams, each with a Newton
 * iteration on a dense Jacobian by differences, and Adams with fixed-point
 * iteration; tolerances from 1e-2 to 1e-10. A run restarts where the clutch lets
 * go or catches; "cut" ones also where valves leave or meet their seats, where the
 * tip valve lifts or falls and, where none opens, where the pressure passes ambient.
 * "Live" ones can't step past the next tick, as a bench can't on which somebody may
 * let go of the switch at any tick. Time is processor time of the fastest of several
 * runs, everything having been set up. */
#include "equations.h"

#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sundials/sundials_context.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sunnonlinsol/sunnonlinsol_fixedpoint.h>
#include <time.h>

#define MAX_PEAKS 128
#define MAX_CUTS 512
#define PATIENCE 1.5 /* [s] for one run of a sweep */
#define TIMING 0.2   /* [s] in which it is repeated */
#define ONCE 1e-9    /* relative tolerance of a single run */

enum style { PLAIN, CUT, LIVE, STYLES };

static const char *const styles[] = {"", ", cut", ", live"};

struct way {
	const char *name;
	int multistep, newton;
};

static const struct way ways[] = {
	{"BDF", CV_BDF, 1},
	{"Adams-Newton", CV_ADAMS, 1},
	{"Adams-fixed-point", CV_ADAMS, 0},
};

struct run {
	struct model *m;
	void *mem;
	N_Vector y, spare;
	double peaks[MAX_PEAKS];
	int peaks_n;
	enum style style;
	double seen[3][2]; /* last three samples: angle, pressure */
	int seen_n;
	long steps;
};

static double now(void)
{
	struct timespec t;
	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
	return t.tv_sec + 1e-9 * t.tv_nsec;
}

static int rates(realtype t, N_Vector y, N_Vector out, void *data)
{
	struct run *r = data;
	const double *s = N_VGetArrayPointer(y);
	for (int i = 0; i < 2 * r->m->cylinders; i++)
		if (!(s[i] > 0))
			return 1; /* no gas: a smaller step, please */
	model_rates(r->m, t, s, N_VGetArrayPointer(out));
	return 0;
}

/* Signs that end a piece: clutch, tip valve, and the root of the leak's law. */
static int roots(realtype t, N_Vector y, realtype *out, void *data)
{
	struct run *r = data;
	int n = 0;
	if (r->m->free)
		out[n++] = model_clutch(r->m, N_VGetArrayPointer(y));
	if (r->style == CUT && r->m->gauged)
		out[n++] = 1e-5 * model_lift(r->m, t, N_VGetArrayPointer(y));
	if (r->style == CUT && !r->m->breathes)
		out[n++] = 1e-5 * model_over(r->m, t, N_VGetArrayPointer(y));
	return 0;
}

/* Notes a sample; a highest one between two lower ones is a peak. */
static void sample(struct run *r, double t, const double *y)
{
	double angle, speed;
	model_motion(r->m, t, y, &angle, &speed);
	memmove(r->seen[0], r->seen[1], 2 * sizeof r->seen[0]);
	r->seen[2][0] = model_wrap(angle - r->m->cylinder[0].firing);
	r->seen[2][1] = model_pressure(r->m, 0, angle, y);
	double *a = r->seen[0], *b = r->seen[1], *c = r->seen[2];
	if (++r->seen_n < 3 || fabs(b[0]) > 0.6 || !(b[1] > a[1] && b[1] >= c[1]) || r->peaks_n == MAX_PEAKS)
		return;
	double d0 = (b[1] - a[1]) / (b[0] - a[0]), d1 = (c[1] - b[1]) / (c[0] - b[0]);
	double second = (d1 - d0) / (c[0] - a[0]), slope = d0 + second * (b[0] - a[0]);
	r->peaks[r->peaks_n++] = b[1] - slope * slope / (4 * second);
}

/* Looks at a finished step: near TDC of cylinder 1 every other degree or so, by the
 * solver's own interpolation, elsewhere not at all. */
static int inspect(struct run *r, double before, double t)
{
	const double near = 0.3, grain = 0.03;
	double a0, a1, speed, *s = N_VGetArrayPointer(r->spare);
	if (CVodeGetDky(r->mem, before, 0, r->spare) != CV_SUCCESS)
		return -1;
	model_motion(r->m, before, s, &a0, &speed);
	model_motion(r->m, t, N_VGetArrayPointer(r->y), &a1, &speed);
	double end = model_wrap(a1 - r->m->cylinder[0].firing), start = end - (a1 - a0);
	if (start > near || end < -near)
		return 0;
	int n = (int)ceil((a1 - a0) / grain);
	for (int k = 1; k <= n; k++) {
		double at = k == n ? t : before + (t - before) * k / n;
		if (CVodeGetDky(r->mem, at, 0, r->spare) != CV_SUCCESS)
			return -1;
		sample(r, at, s);
	}
	return 0;
}

/* Whether the clutch is on the wrong side although no root was found: right after
 * a change its function starts at zero, where a root can be missed. */
static int slipped(const struct model *m, const double *y)
{
	if (!m->free)
		return 0;
	return m->locked ? model_clutch(m, y) < -1e-3 : model_clutch(m, y) > 1e-6;
}

/* Lets the clutch go or catch, if that is what ended the step. */
static void shift(struct run *r, int root)
{
	struct model *m = r->m;
	double *y = N_VGetArrayPointer(r->y);
	int found[2] = {0, 0};
	if (root)
		CVodeGetRootInfo(r->mem, found);
	if (!m->free || !(slipped(m, y) || (found[0] && (found[0] > 0) != m->locked)))
		return;
	m->locked = !m->locked;
	if (m->locked)
		y[m->at_crank + 2] = y[m->at_crank + 1];
}

/* Integrates to stop, restarting where the model changes. */
static int piece(struct run *r, double t, double stop, double deadline)
{
	struct model *m = r->m;
	long tick = lround(t / TICK);
	double until = t;
	if (CVodeReInit(r->mem, t, r->y) != CV_SUCCESS)
		return -1;
	while (t < stop) {
		double before = t;
		if (t >= until) {
			until = r->style == LIVE ? fmin(stop, ++tick * TICK) : stop;
			if (CVodeSetStopTime(r->mem, until) != CV_SUCCESS)
				return -1;
		}
		int flag = CVode(r->mem, stop, r->y, &t, CV_ONE_STEP);
		if (flag < 0 || inspect(r, before, t) < 0)
			return -1;
		if (flag == CV_TSTOP_RETURN)
			t = until; /* to the last bit */
		if ((++r->steps & 255) == 0 && now() > deadline)
			return -1;
		if (flag == CV_ROOT_RETURN || slipped(m, N_VGetArrayPointer(r->y))) {
			shift(r, flag == CV_ROOT_RETURN);
			if (CVodeReInit(r->mem, t, r->y) != CV_SUCCESS || CVodeSetStopTime(r->mem, until) != CV_SUCCESS)
				return -1;
		}
	}
	return 0;
}

static int by_size(const void *a, const void *b)
{
	double d = *(const double *)a - *(const double *)b;
	return d < 0 ? -1 : d > 0;
}

static int cuts(const struct run *r, double end, double *times)
{
	const struct model *m = r->m;
	int n = 0;
	if (!m->free) {
		times[n++] = TICK;
		double edges[4 * MAX_CYLINDERS];
		int edges_n = r->style == CUT ? model_edges(m, edges) : 0;
		for (int i = 0; i < edges_n; i++) {
			double cycle = 12.566370614359172, away = fmod(edges[i] - m->start, cycle);
			double t = TICK + (away < 0 ? away + cycle : away) / m->driven;
			for (; t < end && n < MAX_CUTS - 1; t += cycle / m->driven)
				times[n++] = t;
		}
	}
	times[n++] = end;
	qsort(times, n, sizeof *times, by_size);
	return n;
}

/* One run from the start; -1 when the solver gives up. */
static int once(struct run *r, double deadline)
{
	struct model *m = r->m;
	double times[MAX_CUTS], t = 0;
	int n = cuts(r, m->ticks * TICK, times);
	memcpy(N_VGetArrayPointer(r->y), m->y0, m->states * sizeof(double));
	m->locked = 1;
	m->calls = r->steps = 0;
	r->peaks_n = r->seen_n = 0;
	for (int i = 0; i < n; t = times[i++]) {
		m->still = !m->free && times[i] <= TICK;
		if (times[i] > t && piece(r, t, times[i], deadline) < 0)
			return -1;
	}
	return 0;
}

static void report(const struct run *r, const struct way *w, double rtol, double seconds)
{
	const struct model *m = r->m;
	const double *y = N_VGetArrayPointer(r->y);
	double angle, speed;
	model_motion(m, m->ticks * TICK, y, &angle, &speed);
	printf("{\"problem\":\"%s\",\"method\":\"%s%s\",\"rtol\":%g,\"time\":%.9g,\"calls\":%ld,\"steps\":%ld,\"peaks\":[",
		m->name, w->name, styles[r->style], rtol, seconds, m->calls, r->steps);
	for (int i = 0; i < r->peaks_n; i++)
		printf("%s%.12g", i ? "," : "", r->peaks[i]);
	printf("],\"gauge\":%.12g,\"speed\":%.12g}\n", model_hose(m, y), speed);
	fflush(stdout);
}

/* Runs at one tolerance until the time for it is full; -1 when it takes too long.
 * A solver that gives up for another reason may do better at a smaller one. */
static int measure(struct run *r, const struct way *w, double rtol, double timing, double patience)
{
	double best = 0, begin = now();
	if (CVodeSStolerances(r->mem, rtol, rtol * 1e-2) != CV_SUCCESS)
		return -1;
	for (int n = 0; n == 0 || now() - begin < timing; n++) {
		double t = now();
		if (once(r, t + patience) < 0)
			return now() - t > patience ? -1 : 0;
		t = now() - t;
		if (n == 0 || t < best)
			best = t;
	}
	report(r, w, rtol, best);
	return 0;
}

static void solve(struct model *m, const struct way *w, enum style style, int sweep, SUNContext context)
{
	struct run r = {.m = m, .style = style};
	r.y = N_VNew_Serial(m->states, context);
	r.spare = N_VNew_Serial(m->states, context);
	r.mem = CVodeCreate(w->multistep, context);
	memcpy(N_VGetArrayPointer(r.y), m->y0, m->states * sizeof(double));
	SUNMatrix matrix = NULL;
	SUNLinearSolver linear = NULL;
	SUNNonlinearSolver fixed = NULL;
	CVodeInit(r.mem, rates, 0, r.y);
	CVodeSetUserData(r.mem, &r);
	CVodeSStolerances(r.mem, 1e-4, 1e-6);
	CVodeSetMaxNumSteps(r.mem, 10000000);
	CVodeSetErrFile(r.mem, NULL);
	if (w->newton) {
		matrix = SUNDenseMatrix(m->states, m->states, context);
		linear = SUNLinSol_Dense(r.y, matrix, context);
		CVodeSetLinearSolver(r.mem, linear, matrix);
	} else {
		fixed = SUNNonlinSol_FixedPoint(r.y, 0, context);
		CVodeSetNonlinearSolver(r.mem, fixed);
	}
	int watched = m->free + (style == CUT && m->gauged) + (style == CUT && !m->breathes);
	if (watched)
		CVodeRootInit(r.mem, watched, roots);
	if (!sweep)
		measure(&r, w, ONCE, 0, 1e9);
	for (double rtol = 1e-2; sweep && rtol > 5e-11; rtol *= rtol > 5e-7 ? 0.5623413251903491 : 0.1)
		if (measure(&r, w, rtol, TIMING, PATIENCE) < 0)
			break;
	CVodeFree(&r.mem);
	if (linear)
		SUNLinSolFree(linear);
	if (fixed)
		SUNNonlinSolFree(fixed);
	if (matrix)
		SUNMatDestroy(matrix);
	N_VDestroy(r.y);
	N_VDestroy(r.spare);
}

static void solve_all(struct model *m, int sweep, SUNContext context)
{
	if (!sweep) {
		solve(m, ways, m->breathes ? CUT : PLAIN, 0, context);
		return;
	}
	for (size_t w = 0; w < sizeof ways / sizeof *ways; w++)
		for (enum style style = PLAIN; style < STYLES; style++)
			solve(m, ways + w, style, 1, context);
}

int main(int argc, char **argv)
{
	static struct model list[32];
	SUNContext context;
	int sweep = argc > 2 && strcmp(argv[2], "sweep") == 0;
	if (argc < 3 || (!sweep && strcmp(argv[2], "once") != 0) || SUNContext_Create(NULL, &context)) {
		fprintf(stderr, "usage: cvode PROBLEMS once|sweep [NAME...]\n");
		return 2;
	}
	int n = models_read(argv[1], list, 32);
	for (int i = 0; i < n; i++) {
		int wanted = argc == 3;
		for (int k = 3; k < argc; k++)
			wanted |= strcmp(argv[k], list[i].name) == 0;
		if (wanted)
			solve_all(list + i, sweep, context);
	}
	SUNContext_Free(&context);
	return 0;
}
