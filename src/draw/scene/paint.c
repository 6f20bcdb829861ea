#include "draw/scene/paint.h"

#include "draw/scene/embedded.h"

#include <cairo-ft.h>
#include <ft2build.h>
#include FT_FREETYPE_H
#include <pthread.h>

/* cairo keeps scaled fonts long after their last use, so a face must outlive every drawing: the
 * built-in two are made once and stay. They never change. */
static cairo_font_face_t *faces[2];
static FT_Library library;

static void close_face(void *face)
{
    (void)FT_Done_Face(face);
}

/* cairo closes FreeType's face with its own. */
static cairo_font_face_t *face_from(const unsigned char *bytes, size_t size)
{
    static const cairo_user_data_key_t key;
    FT_Face face;
    if (!library || FT_New_Memory_Face(library, bytes, (FT_Long)size, 0, &face) != 0)
        return NULL;
    cairo_font_face_t *made = cairo_ft_font_face_create_for_ft_face(face, FT_LOAD_NO_HINTING);
    if (cairo_font_face_set_user_data(made, &key, face, close_face) == CAIRO_STATUS_SUCCESS)
        return made;
    cairo_font_face_destroy(made);
    close_face(face);
    return NULL;
}

static void make_faces(void)
{
    if (FT_Init_FreeType(&library) != 0)
        library = NULL;
    faces[0] = face_from(ks_font_regular, ks_font_regular_size);
    faces[1] = face_from(ks_font_bold, ks_font_bold_size);
}

static void destroy_face(void *face)
{
    cairo_font_face_destroy(face);
}

static cairo_font_face_t *more_face(ks_type *type)
{
    const ks_font *more = ks_type_more(type);
    ks_painted_font *painted = ks_type_painted(type);
    if (more && !painted->face)
        *painted = (ks_painted_font){face_from(more->bytes, more->size), destroy_face};
    return painted->face;
}

ks_status ks_paint_ready(ks_type *type, ks_error *err)
{
    static pthread_once_t once = PTHREAD_ONCE_INIT;
    (void)pthread_once(&once, make_faces);
    if (!faces[0] || !faces[1])
        return ks_fail(err, KS_SYSTEM, "the built-in font could not be opened: no memory");
    if (ks_type_more(type) && !more_face(type))
        return ks_fail(err, KS_BAD_INPUT, "%s: this font cannot be drawn; try another",
                       ks_type_more(type)->name);
    return KS_OK;
}

static void set_colour(cairo_t *cr, int32_t rgb)
{
    cairo_set_source_rgb(cr, (rgb >> 16 & 255) / 255.0, (rgb >> 8 & 255) / 255.0,
                         (rgb & 255) / 255.0);
}

static void put_path(cairo_t *cr, const ks_path *path)
{
    for (int i = 0; i < path->n; i++) {
        const ks_point *p = path->at[i].p;
        switch (path->at[i].verb) {
        case 'M':
            cairo_move_to(cr, p[0].x, p[0].y);
            break;
        case 'L':
            cairo_line_to(cr, p[0].x, p[0].y);
            break;
        case 'C':
            cairo_curve_to(cr, p[0].x, p[0].y, p[1].x, p[1].y, p[2].x, p[2].y);
            break;
        default:
            cairo_close_path(cr);
        }
    }
}

static void paint_shape(cairo_t *cr, const ks_mark *mark, ks_box clip)
{
    const ks_look_of *look = &ks_looks[mark->look];
    int dashes = look->dash_mm[2] > 0 ? 4 : look->dash_mm[0] > 0 ? 2 : 0;
    int32_t fill = mark->fill > 0 ? ks_fills[mark->fill] : look->fill_rgb;
    cairo_save(cr);
    if (mark->clipped) {
        cairo_rectangle(cr, clip.x0, clip.y0, clip.x1 - clip.x0, clip.y1 - clip.y0);
        cairo_clip(cr);
    }
    put_path(cr, &mark->path);
    if (fill >= 0) {
        set_colour(cr, fill);
        cairo_fill_preserve(cr);
    }
    if (look->line_mm > 0) {
        set_colour(cr, look->line_rgb);
        cairo_set_line_width(cr, look->line_mm);
        cairo_set_dash(cr, look->dash_mm, dashes, 0);
        cairo_stroke_preserve(cr);
    }
    cairo_new_path(cr);
    cairo_restore(cr);
}

static void paint_run(cairo_t *cr, const char *text, const ks_run *run, double em_mm,
                      ks_arena *arena)
{
    cairo_glyph_t *glyphs = KS_TAKE(arena, run->n_glyphs, cairo_glyph_t);
    cairo_text_cluster_t *clusters = KS_TAKE(arena, run->n_clusters, cairo_text_cluster_t);
    for (int i = 0; i < run->n_glyphs; i++)
        glyphs[i] = (cairo_glyph_t){run->glyphs[i].glyph, run->glyphs[i].x * em_mm,
                                    -run->glyphs[i].y * em_mm};
    for (int i = 0; i < run->n_clusters; i++)
        clusters[i] = (cairo_text_cluster_t){run->clusters[i].n_bytes, run->clusters[i].n_glyphs};
    cairo_show_text_glyphs(
        cr, text + run->from, run->length, glyphs, run->n_glyphs, clusters, run->n_clusters,
        run->backward ? CAIRO_TEXT_CLUSTER_FLAG_BACKWARD : (cairo_text_cluster_flags_t)0);
}

static void paint_words(cairo_t *cr, const ks_scene *scene, const ks_mark *mark)
{
    const ks_look_of *look = &ks_looks[mark->look];
    double em_mm = mark->cap_mm / KS_CAP_HEIGHT;
    const char *text = mark->goes_on ? ks_arena_print(scene->arena, "%s ", mark->text) : mark->text;
    ks_line line = ks_type_line(scene->type, text, look->bold);
    cairo_save(cr);
    cairo_translate(cr, mark->at.x, mark->at.y);
    if (mark->upward)
        cairo_rotate(cr, -1.57079632679489662);
    set_colour(cr, look->line_rgb);
    for (int i = 0; i < line.n_runs; i++) {
        cairo_set_font_face(cr, line.runs[i].more ? more_face(scene->type) : faces[look->bold]);
        cairo_set_font_size(cr, em_mm);
        paint_run(cr, text, &line.runs[i], em_mm, scene->arena);
    }
    cairo_restore(cr);
}

static const char *const tags[] = {[KS_TAG_PARAGRAPH] = "P",
                                   [KS_TAG_TITLE] = "H1",
                                   [KS_TAG_HEADING] = "H2",
                                   [KS_TAG_FIGURE] = "Figure"};

static bool is_told(const ks_mark *mark)
{
    return mark && (mark->kind == KS_WORDS || mark->tag == KS_TAG_FIGURE);
}

/* From the mark of an open tag (NULL = none) to the next: whether a tag is open after it. Only
 * PDF has tags; cairo 1.16 takes no description of a figure, whose words stand in it. */
static bool tag_turned(cairo_t *cr, const ks_mark *open, const ks_mark *next)
{
    bool told = is_told(next);
    if (open && told && open->block == next->block)
        return true;
    if (open)
        cairo_tag_end(cr, tags[open->tag]);
    if (told)
        cairo_tag_begin(cr, tags[next->tag], NULL);
    return told;
}

void ks_paint(cairo_t *cr, const ks_scene *scene)
{
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    cairo_set_font_options(cr, options);
    cairo_font_options_destroy(options);
    cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
    cairo_set_line_cap(cr, CAIRO_LINE_CAP_BUTT);
    cairo_set_fill_rule(cr, CAIRO_FILL_RULE_EVEN_ODD);
    int open = 0;
    for (int i = 0; i < scene->n; i++) {
        const ks_mark *mark = &scene->marks[i];
        open = tag_turned(cr, open > 0 ? &scene->marks[open - 1] : NULL, mark) ? i + 1 : 0;
        if (mark->kind == KS_SHAPE)
            paint_shape(cr, mark, scene->clip);
        else
            paint_words(cr, scene, mark);
    }
    (void)tag_turned(cr, open > 0 ? &scene->marks[open - 1] : NULL, NULL);
}

cairo_status_t ks_paint_sink(void *out, const unsigned char *bytes, unsigned count)
{
    ks_text_add_n(out, (const char *)bytes, count);
    return CAIRO_STATUS_SUCCESS;
}
