/* ledger.h: where the energy goes, and whether it adds up, at every step. */
#ifndef KILNSTOW_FIRE_LEDGER_H
#define KILNSTOW_FIRE_LEDGER_H

#include "fire/physics/network.h"

#include "kilnstow/fire.h"

typedef struct {
    double in_j, casing_j, vent_j, flue_j;
    double start_j[KS_NODE_KINDS]; /* stored at the start, by kind of node */
    double start_chemistry_j;
    double worst_j;          /* largest of what does not add up */
    double block_j, block_s; /* of the quarter of an hour under way */
    double demand_w;
} ks_ledger;

void ks_ledger_start(ks_ledger *ledger, const ks_network *net);

/* Books a step just taken: power into the chamber and into the flue. */
void ks_ledger_book(ks_ledger *ledger, const ks_network *net, double dt_s, double power_w,
                    double flue_w);

ks_energy ks_ledger_energy(const ks_ledger *ledger, const ks_network *net);

#endif
