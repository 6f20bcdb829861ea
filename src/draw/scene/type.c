#include "draw/scene/type.h"

#include "draw/scene/embedded.h"
#include "draw/scene/letter.h"

#include <errno.h>
#include <fribidi.h>
#include <hb-ot.h>
#include <hb.h>
#include <string.h>
#include <utf8proc.h>

enum { REGULAR, BOLD, MORE, FACES };

struct ks_type {
    ks_arena *arena;
    hb_font_t *fonts[FACES]; /* that of MORE is NULL where none was given */
    ks_font more;
    ks_painted_font painted;
    hb_buffer_t *buffer;
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

static bool has_letter(const ks_type *type, int face, uint32_t point)
{
    hb_codepoint_t glyph;
    return hb_font_get_nominal_glyph(type->fonts[face], point, &glyph);
}

static ks_status check_fonts(const ks_type *type, ks_error *err)
{
    if (!has_letter(type, REGULAR, '?') || !has_letter(type, BOLD, '?'))
        return ks_fail(err, KS_BUG, "the built-in font cannot be read");
    if (type->more.bytes && hb_face_get_glyph_count(hb_font_get_face(type->fonts[MORE])) == 0)
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: no font that can be read; it takes TrueType or OpenType (.ttf, .otf)",
                       type->more.name);
    return KS_OK;
}

ks_status ks_type_create(ks_arena *arena, const ks_font *more, ks_type **out, ks_error *err)
{
    ks_type *type = KS_TAKE(arena, 1, ks_type);
    *type = (ks_type){.arena = arena, .more = more ? *more : (ks_font){0}};
    begin_shaping();
    type->fonts[REGULAR] = font_from(ks_font_regular, ks_font_regular_size);
    type->fonts[BOLD] = font_from(ks_font_bold, ks_font_bold_size);
    if (type->more.bytes)
        type->fonts[MORE] = font_from(type->more.bytes, type->more.size);
    type->buffer = hb_buffer_create();
    ks_status status = check_fonts(type, err);
    end_shaping();
    *out = type;
    if (status)
        ks_type_destroy(type);
    return status;
}

void ks_type_destroy(ks_type *type)
{
    if (!type)
        return;
    if (type->painted.face)
        type->painted.destroy(type->painted.face);
    for (int i = 0; i < FACES; i++)
        hb_font_destroy(type->fonts[i]);
    hb_buffer_destroy(type->buffer);
}

const ks_font *ks_type_more(const ks_type *type)
{
    return type->more.bytes ? &type->more : NULL;
}

ks_painted_font *ks_type_painted(ks_type *type)
{
    return &type->painted;
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

static double em_of(const ks_type *type, int face)
{
    return hb_face_get_upem(hb_font_get_face(type->fonts[face]));
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
    int own = hb_font_get_glyph_h_advance(type->fonts[face], mark);
    bool is_wide = utf8proc_charwidth((utf8proc_int32_t)point) > 1; /* ideographs take an em */
    int room = is_wide ? (int)em_of(type, face) : own;
    pos->x_offset = (room - own) / 2;
    return room;
}

/* Letters stay letters: of two that are drawn as one, readers of tagged PDF lose what follows. What
 * a script cannot do without (rlig) stays. */
static const hb_feature_t no_ligatures[] = {
    {HB_TAG('l', 'i', 'g', 'a'), 0, HB_FEATURE_GLOBAL_START, HB_FEATURE_GLOBAL_END},
    {HB_TAG('c', 'l', 'i', 'g'), 0, HB_FEATURE_GLOBAL_START, HB_FEATURE_GLOBAL_END}};

/* Shapes one run; returns its width in em. `x` is where it starts. */
static double shaped(ks_type *type, const char *text, bool bold, double x, ks_run *run)
{
    int face = run->more ? MORE : bold ? BOLD : REGULAR;
    hb_buffer_t *buffer = type->buffer;
    begin_shaping();
    hb_buffer_clear_contents(buffer);
    hb_buffer_add_utf8(buffer, text + run->from, run->length, 0, run->length);
    hb_buffer_set_direction(buffer, run->backward ? HB_DIRECTION_RTL : HB_DIRECTION_LTR);
    hb_buffer_set_language(buffer, hb_language_from_string("en", 2));
    hb_buffer_guess_segment_properties(buffer);
    hb_shape(type->fonts[face], buffer, no_ligatures, 2);
    unsigned count = 0;
    hb_glyph_info_t *infos = hb_buffer_get_glyph_infos(buffer, &count);
    hb_glyph_position_t *places = hb_buffer_get_glyph_positions(buffer, &count);
    end_shaping();
    run->n_glyphs = (int)count;
    run->glyphs = KS_TAKE(type->arena, count, ks_glyph);
    double pen = 0, em = em_of(type, face);
    for (unsigned i = 0; i < count; i++) {
        double step = advance_of(type, face, &infos[i], &places[i], text + run->from);
        run->glyphs[i] = (ks_glyph){infos[i].codepoint, x + (pen + places[i].x_offset) / em,
                                    places[i].y_offset / em};
        pen += step;
    }
    find_clusters(type, run, infos);
    return pen / em;
}

static bool may_turn(const char *text)
{
    int bytes;
    for (; *text; text += bytes)
        if (ks_letter_next(text, &bytes) >= 0x590)
            return true;
    return false;
}

/* Levels of the bidirectional algorithm for each code point, whether it is the other font's, and
 * where each begins. */
typedef struct {
    int n;
    FriBidiLevel *levels;
    bool *more;
    int *starts; /* n + 1 of them */
    bool backward;
} levels_found;

static bool needs_more(const ks_type *type, uint32_t point, bool before)
{
    if (!type->fonts[MORE])
        return false;
    if (ks_sits_on_letter(point))
        return before;
    return !has_letter(type, REGULAR, point) && has_letter(type, MORE, point);
}

static levels_found levels_of(ks_type *type, const char *text)
{
    int room = (int)strlen(text) + 1, n = 0, bytes;
    levels_found found = {0, KS_TAKE(type->arena, room, FriBidiLevel),
                          KS_TAKE(type->arena, room, bool), KS_TAKE(type->arena, room, int), false};
    FriBidiChar *points = KS_TAKE(type->arena, room, FriBidiChar);
    FriBidiCharType *kinds = KS_TAKE(type->arena, room, FriBidiCharType);
    FriBidiBracketType *brackets = KS_TAKE(type->arena, room, FriBidiBracketType);
    for (int at = 0; text[at]; at += bytes) {
        points[n] = ks_letter_next(text + at, &bytes);
        found.more[n] = needs_more(type, points[n], n > 0 && found.more[n - 1]);
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
        while (end < found.n && found.levels[end] == found.levels[i] &&
               found.more[end] == found.more[i])
            end++;
        levels[line->n_runs] = found.levels[i];
        line->runs[line->n_runs++] = (ks_run){.from = found.starts[i],
                                              .length = found.starts[end] - found.starts[i],
                                              .backward = found.levels[i] % 2 == 1,
                                              .more = found.more[i]};
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
        line.width += shaped(type, text, bold, line.width, &line.runs[i]);
    return line;
}

bool ks_type_is_backward(ks_type *type, const char *text)
{
    return may_turn(text) && levels_of(type, text).backward;
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
