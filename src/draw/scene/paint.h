/* paint.h: one scene onto one cairo context. */
#ifndef KILNSTOW_DRAW_SCENE_PAINT_H
#define KILNSTOW_DRAW_SCENE_PAINT_H

#include "draw/scene/scene.h"

#include <cairo.h>

/* Opens the fonts; asked before anything is painted. Fails for a font that cannot be drawn. */
ks_status ks_paint_ready(ks_type *type, ks_error *err);

/* The context's unit is the mm, its origin the scene's. */
void ks_paint(cairo_t *cr, const ks_scene *scene);

/* Takes bytes from cairo. cairo 1.16 forgets errors of its PDF stream, so what goes wrong here
 * would have to be kept by us: writing to memory cannot fail short of the arena's own end. */
cairo_status_t ks_paint_sink(void *out, const unsigned char *bytes, unsigned count);

#endif
