/* network.h: chamber air, ware, shelves and hot faces as nodes that exchange heat, stepped in time.
 */
#ifndef KILNSTOW_FIRE_NETWORK_H
#define KILNSTOW_FIRE_NETWORK_H

#include "fire/physics/layers.h"

#include <stdbool.h>

enum { CHANGES_MOST = 6, LOOPS_MOST = 24 };

/* Heat that a change takes up between two temperatures, the first time it gets there. */
typedef struct {
    double joule, from_c, to_c;
} ks_change;

typedef struct {
    int n;
    ks_change changes[CHANGES_MOST];
} ks_chemistry;

double ks_chemistry_taken_j(const ks_chemistry *chemistry, double highest_c);

/* Free water: below boiling it leaves a wall by diffusion, in time; what is left boils off. */
typedef struct {
    double joule;       /* to drive off all of it */
    double half_m;      /* of the walls it is in */
    bool wet;           /* more than clings to a wall that is dry to the hand */
    double gone, going; /* parts of it: before, and in the step under way */
} ks_drying;

double ks_drying_taken_j(const ks_drying *drying, double gone, double highest_c);

typedef enum {
    KS_AIR_NODE,
    KS_WARE_NODE,
    KS_FURNITURE_NODE,
    KS_FACE_NODE,
    KS_NODE_KINDS
} ks_node_kind;

typedef struct {
    ks_node_kind kind;
    double temp_c, old_c, highest_c;
    const ks_temp_curve *store;    /* J/K and J, NULL = holds nothing */
    const ks_chemistry *chemistry; /* NULL = none */
    ks_drying *drying;             /* NULL = dry */
    ks_layers *stack;              /* a hot face's, else NULL */
    double air_kg_s;               /* room air that comes in and leaves at this temperature */
} ks_node;

/* A control loop: heaters and the thermocouple that steers them. */
typedef struct {
    double *share;  /* by node: where its power goes; adds up to 1 */
    double *sense;  /* by node: weights of what its thermocouple reads; add up to 1 */
    double part;    /* of all the power at hand */
    double power_w; /* what it gave in the last step */
} ks_loop;

typedef struct {
    int a, b;
    double radiant_m2; /* area x exchange factor */
    double plain_w_k;
} ks_link;

typedef struct {
    int n_nodes, n_links;
    ks_node *nodes;
    ks_link *links;
    double room_c;
    const ks_temp_curve *air_heat;
    int n_loops;
    ks_loop *loops;
    int reach;              /* greatest distance of two linked nodes in the list */
    double *matrix, *fault; /* scratch */
    double *gain; /* n_loops x n_loops: what a watt of one does to the reading of another, K */
} ks_network;

/* Room for the scratch, once nodes and links are in place. */
void ks_network_ready(ks_network *net, ks_arena *arena);

/* What drives a step: each loop gives as much power as brings its own thermocouple to set_c, within
 * 0 and its part of most_w. The step is implicit, so nothing is integrated and nothing winds up. */
typedef struct {
    double dt_s, set_c, most_w;
} ks_drive;

/* Takes one implicit step and tells the power. `rate` is dt / (the last step's), by which the first
 * guess carries the last change on; 0 = none. False when it does not settle: undo it, and take a
 * shorter one. */
bool ks_network_step(ks_network *net, const ks_drive *drive, double rate, double *power_w);

/* Gives every loop its power of this step, once the right sides are solved. */
void ks_loops_steer(ks_network *net, const ks_drive *drive);

/* Back to where the last step began. */
void ks_network_undo(ks_network *net);

double ks_network_reading_c(const ks_network *net); /* mean of the thermocouples */
double ks_network_slowest_c(const ks_network *net); /* the coldest thermocouple */
double ks_loop_reading_c(const ks_network *net, const ks_loop *loop);

/* What the nodes of a kind hold, J above 20 C; faces: with their stacks. Chemistry apart. */
double ks_network_stored_j(const ks_network *net, ks_node_kind kind);
double ks_network_chemistry_j(const ks_network *net);
double ks_network_casing_w(const ks_network *net);
double ks_network_vent_w(const ks_network *net);

#endif
