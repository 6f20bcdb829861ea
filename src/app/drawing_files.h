/* drawing_files.h: a drawing as files on disk. */
#ifndef KILNSTOW_APP_DRAWING_FILES_H
#define KILNSTOW_APP_DRAWING_FILES_H

#include "app/machine/target.h"
#include "kilnstow/draw.h"

/* What the path's ending asks for. */
ks_status ks_draw_format_of(const char *out_path, ks_draw_format *format, ks_error *err);

typedef struct {
    const char *out_path; /* what sets several files apart goes before its ending */
    bool force;
    const ks_inputs *inputs;
} ks_drawing_target;

/* Writes all files of a drawing, or none; *paths are theirs. */
ks_status ks_drawing_write(const ks_drawing_target *to, const ks_drawing *drawing, ks_arena *arena,
                           const char ***paths, ks_error *err);

#endif
