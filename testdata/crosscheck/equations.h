/* The equations of a cranked engine for the C programs; the same laws as in
 * equations.py, which explains them. SI throughout. */
#ifndef EQUATIONS_H
#define EQUATIONS_H

#define MAX_CYLINDERS 12
#define MAX_STATES (3 * MAX_CYLINDERS + 10)
#define TICK (1.0 / 1200)

enum plug { PLUG_IN, PLUG_OUT, PLUG_GAUGE };

struct valves {
	double centre, half, lift, seat, curtain, throat, count;
};

struct cylinder {
	enum plug plug;
	double firing, clearance, rings, film;
	struct valves intake, exhaust;
};

struct model {
	char name[64];
	int cylinders, breathes, free, films, gauged; /* gauged: number from 1, or 0 */
	struct cylinder cylinder[MAX_CYLINDERS];
	double stroke, face, throw, rod, offset, top, swept, chamber, liner;
	double ambient, t_ambient, t_wall, h_ambient, h_wall;
	double plenum, throttle, manifold, heat, plug_hole;
	double hose, valve_area, valve_opening, hose_wall;
	double dry, build;
	double driven, coast, start;
	double inertia, friction, hydro;
	double resistance, inductance, constant, ratio, saturation, drag, windage, armature;
	double charge, capacity, kelvin, full, ohmic, leads;
	double mass; /* scale of masses */
	int ticks, states, at_plenum, at_hose, at_film, at_crank;
	int still, locked;  /* what the driver has to set */
	long calls;
	double y0[MAX_STATES];
};

int models_read(const char *file, struct model *list, int most);
void model_rates(struct model *m, double t, const double *y, double *out);
void model_motion(const struct model *m, double t, const double *y, double *angle, double *speed);
double model_pressure(const struct model *m, int cylinder, double angle, const double *y);
double model_hose(const struct model *m, const double *y);
double model_clutch(const struct model *m, const double *y);
double model_lift(const struct model *m, double t, const double *y);
double model_over(const struct model *m, double t, const double *y);
double model_wrap(double a);
int model_edges(const struct model *m, double *angles);

#endif
