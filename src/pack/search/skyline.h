/* skyline.h: rectangles laid into a rectangle one after the other, at its lowest place. */
#ifndef KILNSTOW_PACK_SEARCH_SKYLINE_H
#define KILNSTOW_PACK_SEARCH_SKYLINE_H

#include <stdbool.h>
#include <stdint.h>

/* All lengths are whole thousandths of a mm, so that nothing is lost to rounding. */
typedef struct {
    int kind;
    bool may_turn;
    int64_t w, h; /* the clearance included */
    double worth;
} ks_tile;

/* A stretch of the skyline. */
typedef struct {
    int64_t x, y, w;
} ks_stretch;

typedef struct {
    int tile;
    bool turned;
    int64_t x, y;
} ks_tile_laid;

typedef struct {
    int n;
    ks_tile *tiles;
    int64_t width, height, gap;
    double x_mm, y_mm;   /* lower left corner of the room, where tiles with their clearance begin */
    int *row, *best_row; /* the order in which tiles are asked for */
    bool *turned;        /* how a tile is tried first */
    bool *used, *barred; /* barred: not asked for, though it may be worth something */
    ks_stretch *line;
    int n_line;
    ks_tile_laid *laid;
    int n_laid;
    double *merit;
    bool by_score;
    int64_t *work;
} ks_floor_plan;

/* Lays tiles in the row's order; returns their worth. */
double ks_floor_lay(ks_floor_plan *plan);

#endif
