/* look.h: what the kinds of marks look like: one table for every back end. */
#ifndef KILNSTOW_DRAW_SCENE_LOOK_H
#define KILNSTOW_DRAW_SCENE_LOOK_H

#include <stdbool.h>
#include <stdint.h>

typedef enum {
    KS_LOOK_FRAME,
    KS_LOOK_RULE,   /* hairline between rows and fields */
    KS_LOOK_ACCENT, /* the bar under a sheet's heading */
    KS_LOOK_BAND,   /* light ground behind a row that is not a piece */
    KS_LOOK_TICK,   /* a box to tick */
    KS_LOOK_SOLID,  /* black, for FRONT and rulers */
    KS_LOOK_BLANK,  /* white, black hairline */
    KS_LOOK_WALL,
    KS_LOOK_CHAMBER,
    KS_LOOK_LIMIT, /* where ware must stay within */
    KS_LOOK_SHELF,
    KS_LOOK_SHELF_FAINT,
    KS_LOOK_POST,
    KS_LOOK_POST_FAINT,
    KS_LOOK_KEEP_OUT,
    KS_LOOK_HATCH,
    KS_LOOK_BODY_EDGE, /* drawn under KS_LOOK_BODY: what shows around it is the outline */
    KS_LOOK_BODY,
    KS_LOOK_BODY_FINE_EDGE, /* the same in a small drawing */
    KS_LOOK_BODY_PALE_EDGE, /* a piece that is not the reader's */
    KS_LOOK_BODY_PALE,
    KS_LOOK_RIM,
    KS_LOOK_FOOT,
    KS_LOOK_SETTER,
    KS_LOOK_LEADER,
    KS_LOOK_DOT,
    KS_LOOK_SIZE, /* dimension line */
    KS_LOOK_CURVE,
    KS_LOOK_CURVE_2, /* dashed: what is asked for */
    KS_LOOK_CURVE_3, /* another solid one, thin and dark */
    KS_LOOK_CURVE_4, /* dotted: what was measured */
    KS_LOOK_GRID,
    KS_LOOK_TEXT, /* words from here on */
    KS_LOOK_STRONG,
    KS_LOOK_FAINT,
    KS_LOOK_NUMBER,
    KS_LOOK_INVERSE, /* white words on solid black */
    KS_LOOKS
} ks_look;

typedef struct {
    const char *name;
    double line_mm;    /* 0 = no line */
    double dash_mm[4]; /* stroke, space, stroke, space; 0 = solid */
    int32_t line_rgb;  /* of words: their colour */
    int32_t fill_rgb;  /* -1 = none */
    bool bold;
} ks_look_of;

extern const ks_look_of ks_looks[KS_LOOKS];

/* Fills by which owners are told apart, from 1: light, in steps that stay apart in grey. */
enum { KS_FILLS = 4, KS_HATCHES = 6 /* with none; number 3 is for what is kept free */ };
extern const int32_t ks_fills[KS_FILLS + 1];

#endif
