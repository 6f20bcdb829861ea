/* label.h: finds places for labels, so that none covers another or leaves the drawing. */
#ifndef KILNSTOW_DRAW_SCENE_LABEL_H
#define KILNSTOW_DRAW_SCENE_LABEL_H

#include "draw/scene/trace.h"

typedef struct {
    const char *text[2]; /* one or two lines, the second may be NULL */
    double cap_mm[2];
    ks_look look[2];
    ks_point anchor; /* in the thing it names, on the sheet */
    int thing;       /* number of that thing: its own outlines do not block it */
    /* found */
    bool placed, led; /* led: beside its thing, with a leader */
    ks_box box;
    ks_point tip; /* where the leader meets the box */
} ks_label;

typedef struct {
    ks_polygon shape;
    ks_box box;
    int thing;
    bool home; /* labels of its thing may stand in it */
} ks_block;

/* What is on the drawing so far. Sheet coordinates. */
typedef struct {
    ks_scene *scene;
    ks_box space;       /* labels stay within */
    ks_polygon wall[2]; /* the chamber's inner and outer line: no label crosses or stands between */
    int n_edges;
    const ks_polygon *edges; /* of shelves: no label beside its thing crosses them */
    int n_blocks, blocks_room;
    ks_block *blocks;
    int n_taken, taken_room;
    ks_box *taken;
    int n_leaders, leaders_room;
    struct ks_leader {
        ks_point from, to;
    } * leaders;
} ks_label_field;

void ks_block_add(ks_label_field *field, ks_polygon shape, int thing, bool home);
void ks_taken_add(ks_label_field *field, ks_box box);

/* Inside its thing, clear of all others; false if it does not fit. */
bool ks_label_inside(ks_label_field *field, ks_label *label);

/* Near its thing, with a leader that crosses no label and no other leader. */
bool ks_label_beside(ks_label_field *field, ks_label *label);

/* Draws a placed label with its leader; `ground` >= 0 is a fill drawn behind it. */
void ks_label_draw(ks_label_field *field, const ks_label *label, int ground);

#endif
