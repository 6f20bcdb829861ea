/* trace.h: outlines of the chamber put on paper: to scale, as paths, polygons and hatching. */
#ifndef KILNSTOW_DRAW_SCENE_TRACE_H
#define KILNSTOW_DRAW_SCENE_TRACE_H

#include "draw/scene/scene.h"

/* Where chamber coordinates lie on the sheet; y turns round, as the back is up. */
typedef struct {
    ks_point origin; /* of the chamber, on the sheet, mm */
    double scale;    /* paper mm for each real mm: 0.2 at 1:5 */
} ks_view;

ks_point ks_view_point(ks_view view, ks_point real);

/* Path of an outline with its rounding. Where a concave corner leaves no room for the rounding,
 * the path may cross itself, but encloses the same area. */
ks_path ks_trace_outline(ks_arena *arena, ks_view view, const ks_outline *shape);

/* Corners of a path, curves cut into short chords. */
typedef struct {
    int n;
    ks_point *at;
} ks_polygon;
ks_polygon ks_flat(ks_arena *arena, const ks_path *path);

/* Parallel lines within a shape. Lines of one kind lie on one lattice, so they meet from shape to
 * shape. Kinds from 1 to KS_HATCHES - 1; 0 is none. */
void ks_hatch(ks_scene *scene, const ks_polygon *shape, int kind);

/* The outline moved inwards; corners of a polygon stay corners. For drawing a limit only: a
 * concave outline is taken as it is where moving it would turn it over. */
ks_outline ks_inset(ks_arena *arena, const ks_outline *shape, double by_mm);

ks_box ks_polygon_box(const ks_polygon *shape);
bool ks_point_within(ks_point p, const ks_polygon *shape);
bool ks_box_within(ks_box box, const ks_polygon *shape);
bool ks_box_meets(ks_box box, const ks_polygon *shape);
bool ks_boxes_meet(ks_box a, ks_box b);
bool ks_segment_meets_box(ks_point a, ks_point b, ks_box box);
bool ks_segments_cross(ks_point a, ks_point b, ks_point c, ks_point d);

/* Nearest points of two outlines that do not overlap, in chamber axes; their distance. */
double ks_outlines_nearest(const ks_outline *a, const ks_outline *b, ks_point *on_a,
                           ks_point *on_b);

/* The outline's box, in chamber axes. */
ks_box ks_extent(const ks_outline *shape);

#endif
