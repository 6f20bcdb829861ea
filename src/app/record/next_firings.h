/* next_firings.h: the coming firings of an order's kilns: what ware waits, when it is due, when the
 * kiln is free, and which hours are cheap. Nothing is placed: a load holds what its kiln is used to
 * hold. */
#ifndef KILNSTOW_APP_RECORD_NEXT_FIRINGS_H
#define KILNSTOW_APP_RECORD_NEXT_FIRINGS_H

#include "clock/occupation.h"
#include "kilnstow/learn.h"

typedef struct {
    const char *book_path; /* NULL = the usual one, which need not be there yet */
    const char *order_path;
    const char *kiln_folder; /* NULL = the program's own */
    const char *from;        /* first day; NULL = now */
} ks_next_job;

typedef struct {
    int piece; /* into order.pieces */
    int copies;
    bool late; /* the lid cannot be opened by 18:00 on the day it is due */
} ks_next_ware;

/* Why a firing takes place then. */
typedef enum {
    KS_NEXT_DATED,  /* the order tells its day */
    KS_NEXT_FULL,   /* there is ware for a full kiln */
    KS_NEXT_DUE,    /* ware in it is due */
    KS_NEXT_WAITED, /* ware in it must go, or plans have left it out again and again */
    KS_NEXT_WAITS   /* none of these: it waits for more ware, and has no time */
} ks_next_why;

typedef struct {
    int kiln, firing; /* into the order's; firing -1 = a dated load for which no ware waits */
    int day;          /* told by the order, else KS_NO_DAY */
    double litres;    /* of the boxes around its ware */
    int n_ware, room;
    ks_next_ware *ware;
    int due_day; /* the earliest of its ware, KS_NO_DAY = none */
    ks_next_why why;
    ks_occupation at;
    int64_t saves_minor; /* against the first start that is free, 0 = that one is taken */
} ks_next_firing;

/* How much ware a kiln takes when it is full: of its chamber, mean and one sigma. */
typedef struct {
    double part, sigma;
    int loads; /* of the record that were full, 0 = as in the examples */
} ks_usual_fill;

typedef struct {
    ks_order *order;
    ks_zone_rule zone;
    ks_people people;
    int64_t from_s;
    bool has_book;
    ks_usual_fill *fills; /* by kiln */
    int n, room;
    ks_next_firing *firings; /* by loading; those that wait for more ware last */
    int n_nowhere, nowhere_room;
    ks_next_ware *nowhere; /* no kiln and firing of the order takes it */
    int n_cooling;
    struct ks_still_in {
        int kiln;
        int entry;
        ks_occupation at;
    } * cooling; /* kilns that a firing of the record still takes up */
} ks_next_outcome;

ks_status ks_next_run(const ks_next_job *job, ks_arena *arena, ks_next_outcome *out, ks_error *err);

/* What a full kiln holds, litres of boxes around its ware. */
double ks_next_full_litres(const ks_next_outcome *outcome, int kiln);

/* How full a load is, of what a full kiln holds: middle, and where 9 of 10 lie. */
typedef struct {
    double part, low, high;
} ks_next_fullness;
ks_next_fullness ks_next_fullness_of(const ks_next_outcome *outcome, const ks_next_firing *firing);

/* What the record's last firings still take up, as simulated. */
ks_status ks_next_cooling(ks_book *book, ks_next_outcome *outcome, ks_arena *arena, ks_error *err);

/* Puts each firing on the clock, beside what takes up the kilns already. */
ks_status ks_next_dates(ks_next_outcome *outcome, ks_arena *arena, ks_error *err);

#endif
