/* Reads problems.json: numbers, texts and truth values by their path, such as
 * problems.2.params.Rod. Enough JSON for that one file. */
#include "equations.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define PI 3.14159265358979323846

struct entry {
	char path[96], text[64];
	double number;
};

static struct entry *entries;
static int count, room;
static const char *at;

static void fail(const char *what, const char *where)
{
	fprintf(stderr, "problems.json: %s %.60s\n", what, where);
	exit(2);
}

static void skip(void)
{
	while (isspace((unsigned char)*at) || *at == ',' || *at == ':')
		at++;
}

static void text(char *to, size_t size)
{
	size_t n = 0;
	for (at++; *at && *at != '"'; at++) {
		if (*at == '\\' || n + 1 >= size)
			fail("a text too long or with an escape:", at);
		to[n++] = *at;
	}
	to[n] = 0;
	at++;
}

static struct entry *add(const char *path)
{
	if (count == room)
		entries = realloc(entries, sizeof *entries * (room = room * 2 + 4096));
	struct entry *e = entries + count++;
	memset(e, 0, sizeof *e);
	snprintf(e->path, sizeof e->path, "%s", path);
	return e;
}

static void value(const char *path)
{
	char key[64], inner[96];
	skip();
	if (*at == '{' || *at == '[') {
		int object = *at == '{', n = 0;
		for (at++, skip(); *at != '}' && *at != ']'; skip()) {
			if (object)
				text(key, sizeof key);
			else
				snprintf(key, sizeof key, "%d", n++);
			if (snprintf(inner, sizeof inner, "%s%s%s", path, *path ? "." : "", key) >= (int)sizeof inner)
				fail("too deep:", at);
			value(inner);
		}
		at++;
		return;
	}
	struct entry *e = add(path);
	if (*at == '"') {
		text(e->text, sizeof e->text);
	} else if (isalpha((unsigned char)*at)) {
		e->number = *at == 't';
		while (isalpha((unsigned char)*at))
			at++;
	} else {
		char *end;
		e->number = strtod(at, &end);
		if (end == at)
			fail("no value here:", at);
		at = end;
	}
}

static int compare(const void *a, const void *b)
{
	return strcmp(((const struct entry *)a)->path, ((const struct entry *)b)->path);
}

static struct entry *find(int problem, const char *name)
{
	struct entry key;
	if (snprintf(key.path, sizeof key.path, "problems.%d.%s", problem, name) >= (int)sizeof key.path)
		fail("too long:", name);
	return bsearch(&key, entries, count, sizeof *entries, compare);
}

static double get(int problem, const char *name)
{
	struct entry *e = find(problem, name);
	if (!e)
		fail("missing:", name);
	return e->number;
}

static double of(int problem, int cylinder, const char *name)
{
	char path[128];
	snprintf(path, sizeof path, "params.Cylinder.%d.%s", cylinder, name);
	return get(problem, path);
}

static void read_valves(struct valves *v, int k, const char *kind, int cylinder)
{
	char name[96];
	double x[5];
	static const char *const fields[5] = {"Count", "Diameter", "Lift", "Opens", "Closes"};
	static const char *const own[3] = {"Lift", "Shift", "SeatArea"};
	double y[3];
	for (int i = 0; i < 5; i++) {
		snprintf(name, sizeof name, "params.%s.%s", kind, fields[i]);
		x[i] = get(k, name);
	}
	for (int i = 0; i < 3; i++) {
		snprintf(name, sizeof name, "%s%s", kind, own[i]);
		y[i] = of(k, cylinder, name);
	}
	v->centre = model_wrap((x[3] + x[4]) / 2 + y[1]);
	v->half = (x[4] - x[3]) / 2 / sqrt(1 - sqrt(0.15e-3 / x[2]));
	v->lift = x[2] * y[0];
	v->seat = y[2];
	v->count = x[0];
	v->curtain = 0.70 * PI * x[1];
	v->throat = 0.62 * PI / 4 * x[1] * x[1];
}

static void read_cylinder(struct model *m, int k, int i)
{
	struct cylinder *c = m->cylinder + i;
	char name[64];
	snprintf(name, sizeof name, "plugs.%d", i);
	struct entry *plug = find(k, name);
	if (!plug)
		fail("missing:", name);
	c->plug = strcmp(plug->text, "gauge") == 0 ? PLUG_GAUGE : strcmp(plug->text, "out") == 0 ? PLUG_OUT : PLUG_IN;
	if (c->plug == PLUG_GAUGE)
		m->gauged = i + 1;
	snprintf(name, sizeof name, "film.%d", i);
	c->film = get(k, name);
	if (c->film != 1)
		m->films = 1;
	c->firing = of(k, i, "FiringAngle");
	c->rings = of(k, i, "RingArea");
	c->clearance = -of(k, i, "Deposit");
	read_valves(&c->intake, k, "Intake", i);
	read_valves(&c->exhaust, k, "Exhaust", i);
}

double model_walther(double cold, double hot, double kelvin);
void model_prepare(struct model *m, double compression, double adapter, double cca, double age);

static void read_crank(struct model *m, int k)
{
	double bore = get(k, "params.Bore");
	m->stroke = get(k, "params.Stroke");
	m->face = PI / 4 * bore * bore;
	m->liner = PI * bore / m->face;
	m->throw = m->stroke / 2;
	m->rod = get(k, "params.Rod");
	m->offset = get(k, "params.PinOffset");
	m->top = sqrt((m->rod + m->throw) * (m->rod + m->throw) - m->offset * m->offset);
	m->swept = m->face * (m->top - sqrt((m->rod - m->throw) * (m->rod - m->throw) - m->offset * m->offset));
	m->inertia = get(k, "params.Crank.Inertia");
	m->friction = get(k, "params.Crank.FrictionMEP") * m->swept * m->cylinders / (4 * PI);
	m->hydro = model_walther(get(k, "params.Crank.OilGradeCold"), get(k, "params.Crank.OilGradeHot"), m->t_wall) / (12e-6 * 21);
}

static void read_electrics(struct model *m, int k)
{
	m->resistance = get(k, "params.Starter.Resistance");
	m->inductance = get(k, "params.Starter.Inductance");
	m->constant = get(k, "params.Starter.Constant");
	m->ratio = get(k, "params.Starter.Ratio");
	m->saturation = get(k, "params.Starter.Saturation");
	m->drag = get(k, "params.Starter.Drag");
	m->windage = get(k, "params.Starter.Windage");
	m->armature = get(k, "params.Starter.Inertia");
	m->charge = get(k, "params.Battery.Charge");
	m->capacity = get(k, "params.Battery.Capacity");
	m->leads = get(k, "params.Battery.Cable") + get(k, "params.Battery.Ground");
	m->kelvin = m->t_ambient;
}

static void read_gas(struct model *m, int k)
{
	m->ambient = get(k, "params.Ambient");
	m->t_ambient = get(k, "params.AmbientTemperature");
	m->t_wall = get(k, "coolant");
	m->plenum = get(k, "params.PlenumVolume");
	double stop = 7 * PI / 180, plate = stop + (PI / 2 - stop) * get(k, "throttle");
	m->throttle = get(k, "params.IdleArea") + get(k, "params.ThrottleArea") * (1 - cos(plate) / cos(stop));
	m->manifold = get(k, "params.Heat.Manifold");
	m->heat = get(k, "params.Heat.Factor");
	m->plug_hole = get(k, "params.PlugHoleArea");
	m->hose = get(k, "params.Gauge.HoseVolume");
	m->valve_area = get(k, "params.Gauge.ValveArea");
	m->valve_opening = get(k, "params.Gauge.ValveOpening");
	m->hose_wall = get(k, "params.Gauge.HoseConductance");
	m->dry = get(k, "params.Rings.DryFactor");
	m->build = get(k, "params.Rings.BuildAngle");
}

static void read_model(struct model *m, int k, const char *name)
{
	memset(m, 0, sizeof *m);
	snprintf(m->name, sizeof m->name, "%s", name);
	m->breathes = get(k, "breathes") != 0;
	m->driven = get(k, "speed");
	m->free = m->driven == 0;
	m->coast = get(k, "coast");
	m->start = get(k, "start");
	m->ticks = (int)get(k, "ticks");
	m->cylinders = (int)get(k, "params.Cylinders");
	read_gas(m, k);
	read_crank(m, k);
	read_electrics(m, k);
	for (int i = 0; i < m->cylinders; i++)
		read_cylinder(m, k, i);
	model_prepare(m, get(k, "params.Compression"), get(k, "params.Gauge.AdapterVolume"),
		get(k, "params.Battery.CCA"), get(k, "params.Battery.AgeFactor"));
}

int models_read(const char *file, struct model *list, int most)
{
	FILE *in = fopen(file, "rb");
	if (!in)
		fail("cannot open", file);
	size_t size = 0, got;
	char *all = malloc(1 << 22);
	while ((got = fread(all + size, 1, (1 << 22) - 1 - size, in)) > 0)
		size += got;
	fclose(in);
	all[size] = 0;
	at = all;
	value("");
	qsort(entries, count, sizeof *entries, compare);
	int k = 0;
	for (struct entry *e; k < most && (e = find(k, "name")); k++)
		read_model(list + k, k, e->text);
	free(all);
	return k;
}
