#include "app/drawing_files.h"

#include "base/file.h"

#include <string.h>

static const struct {
    const char *ending;
    ks_draw_format format;
} formats[] = {{".pdf", KS_PDF}, {".svg", KS_SVG}, {".png", KS_PNG}, {".html", KS_HTML}};

ks_status ks_draw_format_of(const char *out_path, ks_draw_format *format, ks_error *err)
{
    *format = KS_PDF;
    if (ks_path_is_standard(out_path))
        return KS_OK;
    for (size_t i = 0; i < sizeof formats / sizeof *formats; i++)
        if (ks_path_ends(out_path, formats[i].ending)) {
            *format = formats[i].format;
            return KS_OK;
        }
    return ks_fail(err, KS_BAD_USAGE,
                   "draw: found -o \"%s\"; the file's name must end in .pdf, .svg, .png, .html or "
                   ".ics",
                   out_path);
}

/* "sheets.png" and "level-2" make "sheets-level-2.png". */
static const char *path_of(const char *out_path, const char *name, ks_arena *arena)
{
    if (!*name)
        return out_path;
    const char *dot = strrchr(out_path, '.');
    return ks_arena_print(arena, "%.*s-%s%s", (int)(dot - out_path), out_path, name, dot);
}

ks_status ks_drawing_write(const ks_drawing_target *to, const ks_drawing *drawing, ks_arena *arena,
                           const char ***paths, ks_error *err)
{
    ks_status status = KS_OK;
    ks_target_kind kind = ks_target_draw(to->out_path);
    *paths = KS_TAKE(arena, drawing->n_files, const char *);
    for (int i = 0; i < drawing->n_files && !status; i++) {
        (*paths)[i] = path_of(to->out_path, drawing->files[i].name, arena);
        status = ks_target_try((*paths)[i], kind, to->inputs, to->force, err);
    }
    for (int i = 0; i < drawing->n_files && !status; i++) {
        const ks_drawn *file = &drawing->files[i];
        status = ks_file_write((*paths)[i], (const char *)file->bytes, file->size, err);
    }
    return status;
}
