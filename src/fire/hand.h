/* hand.h: whoever turns the switches of a kiln without a controller, half hour by half hour. */
#ifndef KILNSTOW_FIRE_HAND_H
#define KILNSTOW_FIRE_HAND_H

#include "fire/course.h"

#define MARK_S 1800.0 /* people look each half hour */
#define SPARE_K 5.0
#define LONGEST_S (120 * S_PER_H)

enum { ALL_OFF = -1 };

/* Where the firing has got to on its schedule. */
typedef struct {
    ks_course *c;
    int setting; /* ALL_OFF, or how many turns it takes, less one */
    int segment, last, room;
    double hold_left_h;
    bool there;      /* it has come to its target */
    bool minded;     /* switched off and on, */
    double mind_c;   /* so that it stays there, */
    double mind_k_h; /* or goes towards it no faster than so; 0 = stays */
} ks_hand;

const ks_segment *ks_hand_segment(const ks_hand *h);

/* Switches are turned up one after the other, from the bottom. */
int ks_hand_settings(const ks_hand *h);
bool ks_hand_is_even(const ks_hand *h, int setting); /* all switches at the same position */
double ks_hand_part(const ks_hand *h, int setting);  /* of all power */

/* Turns the switches, or tells anew how they are minded. */
void ks_hand_turn(ks_hand *h, int setting);
void ks_hand_turn_off(ks_hand *h, const char *look);

double ks_hand_turned_s(const ks_hand *h); /* when the last turn was */

/* What it will read in half an hour at a setting, as nothing is minded. */
double ks_hand_ahead_c(ks_hand *h, int setting);

/* Lets it go on, minded as it is; stops when the cone goes down. */
void ks_hand_run(ks_hand *h, double until_s);

/* From the cone down on: turns switches on again where the ware bears less than the kiln falls. */
void ks_hand_cool(ks_hand *h);

#endif
