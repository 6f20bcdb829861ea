/* restarts.h: where there is much to choose from, the search is restarted from an empty level again
 * and again, and of some restarts that had as much work the best goes on (successive halving:
 * Karnin, Koren, Somekh 2013, "Almost optimal exploration in multi-armed bandits"; Jamieson,
 * Talwalkar 2016; here without an end, bracket over bracket).
 *
 * Four restarts make a bracket; the winner goes on for twice as long and enters the next bracket,
 * where it meets the winners of others. So most work goes into what has done well, none hangs on
 * how it happened to begin, and a search that is ended early has a good answer at any time. */
#ifndef KILNSTOW_PACK_SEARCH_RESTARTS_H
#define KILNSTOW_PACK_SEARCH_RESTARTS_H

#include "pack/instance/packing.h"

enum { KS_BRACKETS = 6 };

typedef struct {
    int bracket;     /* which the restart at hand is in */
    int64_t began;   /* at what work */
    ks_packing best; /* of this restart */
    double worth;
    struct {
        int entrants;    /* restarts that have been in it */
        ks_packing best; /* of them */
        double worth;
    } brackets[KS_BRACKETS];
} ks_restarts;

void ks_restarts_init(ks_restarts *restarts, ks_instance *instance, int room, ks_arena *arena);

/* Empties all brackets and begins the first restart. */
void ks_restarts_forget(ks_restarts *restarts, int64_t work);

/* Begins a restart that enters this bracket. */
void ks_restarts_begin(ks_restarts *restarts, int bracket, int64_t work);

/* Takes notice of a layout that holds. */
void ks_restarts_watch(ks_restarts *restarts, const ks_packing *layout, double worth);

/* How much work the restart at hand may have in all, by how many bodies the best layout has. */
int64_t ks_restarts_length(const ks_restarts *restarts, int bodies);

/* Ends the restart at hand. The bracket that the next one enters; if not 0, *start becomes the
 * layout that it goes on from. */
int ks_restarts_end(ks_restarts *restarts, ks_packing *start);

#endif
