/* course.h: a firing under way: its state, its steps and its curve. */
#ifndef KILNSTOW_FIRE_COURSE_H
#define KILNSTOW_FIRE_COURSE_H

#include "fire/physics/coast.h"
#include "fire/ledger.h"
#include "fire/run_job.h"
#include "fire/physics/work.h"

#define S_PER_H 3600.0

typedef struct {
    const ks_run_job *job;
    ks_arena *arena;
    ks_firing_result *out;
    ks_fired_model model;
    ks_ledger ledger;
    ks_cone_row_work cones;
    ks_witness *edge, *middle; /* by level of the heat load */
    double end_work, end_goal; /* of end_cone, mean over the levels' edges; goal usually 1 */
    double coast_h;            /* see coast.h; NAN while the end is far */
    double fall_k_h;           /* at which it cools once the cone is down, 0 = freely */
    ks_network_state kept;     /* to look ahead from */
    double wanted_work;        /* the same of the cone that the firing asks for */
    double time_s, set_c, last_dt_s;
    bool full_power, gave_up, cone_down, ended;
    bool propped;     /* as far down as a lid may be propped */
    double switched;  /* part of all power that its switches are set to, 1 under a controller */
    bool lid_propped; /* by hand, while it heats */
    double watched_s; /* since the last turn: the programme was over, as it proved */
    int slowest_zone; /* whose thermocouple is the coldest */
    double fuel_w_most;
    double point_due_s, point_j, point_from_s;
    int points_room;
} ks_course;

double ks_course_reading_c(const ks_course *c); /* mean of the thermocouples */
double ks_course_slowest_c(const ks_course *c); /* the coldest zone's */

/* Levels of the heat load lie from below; results follow load.levels. */
int ks_course_level(const ks_course *c, int i);

/* Takes a step towards set_c (NAN = heaters off); when the end cone goes down in it, only as much
 * of it as that takes. */
void ks_course_step(ks_course *c, double set_c, double dt_s);

double ks_course_most_w(const ks_course *c); /* into the chamber, as its switches are set */

/* Room air comes in as it does while the kiln as it stands is heated, or switched off. */
void ks_course_air(ks_course *c, bool heats);

/* The same while it cools with its lid propped by a hand's breadth. */
void ks_course_propped_air(ks_course *c);

/* Whether nothing cools it but its walls at this temperature: no vent, damper or propped lid. */
bool ks_course_cools_shut(const ks_course *c, double at_c);

/* Adds the present moment to the curve. */
void ks_course_point(ks_course *c);

/* Runs all segments as far as the kiln can. */
void ks_course_schedule(ks_course *c);

#endif
