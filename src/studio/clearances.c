#include "kilnstow/kiln.h"

#define LISTED(name, usual_mm, what) {#name, usual_mm, what, offsetof(ks_clearance, name)},
const ks_clearance_kind ks_clearances[] = {KS_CLEARANCES(LISTED)};
const int ks_n_clearances = sizeof ks_clearances / sizeof *ks_clearances;

double *ks_clearance_at(ks_clearance *clearance, int i)
{
    return (double *)((char *)clearance + ks_clearances[i].at);
}

ks_clearance ks_clearance_usual(void)
{
    ks_clearance usual;
    for (int i = 0; i < ks_n_clearances; i++)
        *ks_clearance_at(&usual, i) = ks_clearances[i].usual_mm;
    return usual;
}
