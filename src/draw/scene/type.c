#include "draw/scene/type.h"

#include "draw/scene/embedded.h"
#include "draw/scene/letter.h"

#include <errno.h>
#include <fribidi.h>
#include <hb-ot.h>
#include <hb.h>
#include <string.h>

enum { FACES = 2 };

struct ks_type {
    ks_arena *arena;
    hb_font_t *fonts[FACES]; /* regular, bold */
    hb_buffer_t *buffer;
    double units_per_em;
    int n_missing, missing_room;
    uint32_t *missing;
};

static hb_font_t *font_from(const unsigned char *bytes, size_t size)
{
    hb_blob_t *blob =
        hb_blob_create((const char *)bytes, (unsigned)size, HB_MEMORY_MODE_READONLY, NULL, NULL);
    hb_face_t *face = hb_face_create(blob, 0);
    hb_font_t *font = hb_font_create(face);
    hb_font_make_immutable(font);
    hb_face_destroy(face);
    hb_blob_destroy(blob);
    return font;
}

/* HarfBuzz makes do without what it has no memory for, and words would come out otherwise; malloc
 * tells of it in errno. */
static void begin_shaping(void)
{
    errno = 0;
}

static void end_shaping(void)
{
    if (errno == ENOMEM)
        ks_no_memory();
}

ks_status ks_type_create(ks_arena *arena, ks_type **out, ks_error *err)
{
    ks_type *type = KS_TAKE(arena, 1, ks_type);
    type->arena = arena;
    begin_shaping();
    type->fonts[0] = font_from(ks_font_regular, ks_font_regular_size);
    type->fonts[1] = font_from(ks_font_bold, ks_font_bold_size);
    type->buffer = hb_buffer_create();
    type->units_per_em = hb_face_get_upem(hb_font_get_face(type->fonts[0]));
    *out = type;
    hb_codepoint_t glyph;
    for (int i = 0; i < FACES; i++)
        if (!hb_font_get_nominal_glyph(type->fonts[i], '?', &glyph)) {
            end_shaping();
            ks_type_destroy(type);
            return ks_fail(err, KS_BUG, "the built-in font cannot be read");
        }
    end_shaping();
    return KS_OK;
}

void ks_type_destroy(ks_type *type)
{
    if (!type)
        return;
    for (int i = 0; i < FACES; i++)
        hb_font_destroy(type->fonts[i]);
    hb_buffer_destroy(type->buffer);
}

/* Controls, and the marks of the bidirectional algorithm (UAX 9): a name must not be able to turn
 * the words around it. */
static bool turns_reading(uint32_t point)
{
    return point == 0x200E || point == 0x200F || point == 0x061C || point == 0xFEFF ||
           (point >= 0x202A && point <= 0x202E) || (point >= 0x2066 && point <= 0x2069);
}

static bool unprintable(uint32_t point)
{
    return point < 0x20 || (point >= 0x7F && point < 0xA0) || point == 0x2028 || point == 0x2029 ||
           (point & 0xFFFE) == 0xFFFE || (point >= 0xFDD0 && point <= 0xFDEF);
}

const char *ks_type_clean(ks_arena *arena, const char *text)
{
    char *clean = ks_arena_take(arena, 3 * strlen(text) + 1, 1);
    int used = 0, bytes;
    for (; *text; text += bytes) {
        uint32_t point = ks_letter_next(text, &bytes);
        if (turns_reading(point))
            continue;
        used += ks_utf8_put(unprintable(point) ? ' ' : point, clean + used);
    }
    return clean;
}

static void note_missing(ks_type *type, uint32_t point)
{
    int at = 0;
    while (at < type->n_missing && type->missing[at] < point)
        at++;
    if (at < type->n_missing && type->missing[at] == point)
        return;
    type->missing =
        KS_GROW(type->arena, type->missing, type->n_missing, &type->missing_room, uint32_t);
    memmove(type->missing + at + 1, type->missing + at,
            (size_t)(type->n_missing - at) * sizeof *type->missing);
    type->missing[at] = point;
    type->n_missing++;
}

/* HarfBuzz counts clusters by their first byte, ascending or (backward) descending. */
static void find_clusters(ks_type *type, ks_run *run, const hb_glyph_info_t *infos)
{
    run->clusters = KS_TAKE(type->arena, run->n_glyphs, ks_cluster);
    for (int i = 0; i < run->n_glyphs; i++) {
        bool same = i > 0 && infos[i].cluster == infos[i - 1].cluster;
        if (!same)
            run->n_clusters++;
        run->clusters[run->n_clusters - 1].n_glyphs++;
        run->clusters[run->n_clusters - 1].n_bytes = (int)infos[i].cluster;
    }
    int next = run->length; /* a cluster ends where the next in the text begins */
    for (int k = 0; k < run->n_clusters; k++) {
        ks_cluster *c = &run->clusters[run->backward ? k : run->n_clusters - 1 - k];
        int first = c->n_bytes;
        c->n_bytes = next - first;
        next = first;
    }
    for (int a = 0, b = run->n_clusters - 1; run->backward && a < b; a++, b--) {
        ks_cluster kept = run->clusters[a];
        run->clusters[a] = run->clusters[b];
        run->clusters[b] = kept;
    }
}

static double advance_of(ks_type *type, int face, hb_glyph_info_t *info, hb_glyph_position_t *pos,
                         const char *text)
{
    if (info->codepoint != 0)
        return pos->x_advance;
    int bytes;
    uint32_t point = ks_letter_next(text + info->cluster, &bytes);
    note_missing(type, point);
    hb_codepoint_t mark = 0;
    hb_font_get_nominal_glyph(type->fonts[face], '?', &mark);
    info->codepoint = mark;
    return hb_font_get_glyph_h_advance(type->fonts[face], mark);
}

/* Shapes one run; returns its width in em. `x` is where it starts. */
static double shaped(ks_type *type, const char *text, int face, double x, ks_run *run)
{
    hb_buffer_t *buffer = type->buffer;
    begin_shaping();
    hb_buffer_clear_contents(buffer);
    hb_buffer_add_utf8(buffer, text + run->from, run->length, 0, run->length);
    hb_buffer_set_direction(buffer, run->backward ? HB_DIRECTION_RTL : HB_DIRECTION_LTR);
    hb_buffer_set_language(buffer, hb_language_from_string("en", 2));
    hb_buffer_guess_segment_properties(buffer);
    hb_shape(type->fonts[face], buffer, NULL, 0);
    unsigned count = 0;
    hb_glyph_info_t *infos = hb_buffer_get_glyph_infos(buffer, &count);
    hb_glyph_position_t *places = hb_buffer_get_glyph_positions(buffer, &count);
    end_shaping();
    run->n_glyphs = (int)count;
    run->glyphs = KS_TAKE(type->arena, count, ks_glyph);
    double pen = 0;
    for (unsigned i = 0; i < count; i++) {
        double step = advance_of(type, face, &infos[i], &places[i], text + run->from);
        run->glyphs[i] =
            (ks_glyph){infos[i].codepoint, x + (pen + places[i].x_offset) / type->units_per_em,
                       places[i].y_offset / type->units_per_em};
        pen += step;
    }
    find_clusters(type, run, infos);
    return pen / type->units_per_em;
}

static bool may_turn(const char *text)
{
    int bytes;
    for (; *text; text += bytes)
        if (ks_letter_next(text, &bytes) >= 0x590)
            return true;
    return false;
}

/* Levels of the bidirectional algorithm for each code point, and where each begins. */
typedef struct {
    int n;
    FriBidiLevel *levels;
    int *starts; /* n + 1 of them */
    bool backward;
} levels_found;

static levels_found levels_of(ks_type *type, const char *text)
{
    int room = (int)strlen(text) + 1, n = 0, bytes;
    levels_found found = {0, KS_TAKE(type->arena, room, FriBidiLevel),
                          KS_TAKE(type->arena, room, int), false};
    FriBidiChar *points = KS_TAKE(type->arena, room, FriBidiChar);
    FriBidiCharType *kinds = KS_TAKE(type->arena, room, FriBidiCharType);
    FriBidiBracketType *brackets = KS_TAKE(type->arena, room, FriBidiBracketType);
    for (int at = 0; text[at]; at += bytes) {
        points[n] = ks_letter_next(text + at, &bytes);
        found.starts[n++] = at;
    }
    found.n = n;
    found.starts[n] = room - 1;
    FriBidiParType base = FRIBIDI_PAR_ON;
    fribidi_get_bidi_types(points, n, kinds);
    fribidi_get_bracket_types(points, n, kinds, brackets);
    if (!fribidi_get_par_embedding_levels_ex(kinds, brackets, n, &base, found.levels))
        memset(found.levels, 0, (size_t)room);
    found.backward = base == FRIBIDI_PAR_RTL || base == FRIBIDI_PAR_WRTL;
    return found;
}

/* Runs of equal level, put in the order seen: every stretch of at least each level is reversed. */
static void runs_ordered(ks_run *runs, const int *levels, int n)
{
    int highest = 0;
    for (int i = 0; i < n; i++)
        highest = levels[i] > highest ? levels[i] : highest;
    int *level = (int *)levels;
    for (int limit = highest; limit > 0; limit--)
        for (int i = 0; i < n; i++) {
            int end = i;
            while (end < n && level[end] >= limit)
                end++;
            for (int a = i, b = end - 1; a < b; a++, b--) {
                ks_run run = runs[a];
                runs[a] = runs[b];
                runs[b] = run;
                int l = level[a];
                level[a] = level[b];
                level[b] = l;
            }
            i = end > i ? end - 1 : i;
        }
}

static void split_runs(ks_type *type, const char *text, ks_line *line)
{
    levels_found found = levels_of(type, text);
    int *levels = KS_TAKE(type->arena, found.n + 1, int);
    line->runs = KS_TAKE(type->arena, found.n + 1, ks_run);
    line->backward = found.backward;
    for (int i = 0; i < found.n;) {
        int end = i + 1;
        while (end < found.n && found.levels[end] == found.levels[i])
            end++;
        levels[line->n_runs] = found.levels[i];
        line->runs[line->n_runs++] = (ks_run){.from = found.starts[i],
                                              .length = found.starts[end] - found.starts[i],
                                              .backward = found.levels[i] % 2 == 1};
        i = end;
    }
    runs_ordered(line->runs, levels, line->n_runs);
}

ks_line ks_type_line(ks_type *type, const char *text, bool bold)
{
    ks_line line = {0};
    if (!*text)
        return line;
    if (may_turn(text)) {
        split_runs(type, text, &line);
    } else {
        line.n_runs = 1;
        line.runs = KS_TAKE(type->arena, 1, ks_run);
        line.runs[0].length = (int)strlen(text);
    }
    for (int i = 0; i < line.n_runs; i++)
        line.width += shaped(type, text, bold ? 1 : 0, line.width, &line.runs[i]);
    return line;
}

double ks_type_width(ks_type *type, const char *text, bool bold)
{
    return ks_type_line(type, text, bold).width;
}

int ks_type_missing(const ks_type *type, const uint32_t **points)
{
    *points = type->missing;
    return type->n_missing;
}

ks_arena *ks_type_arena(ks_type *type)
{
    return type->arena;
}
