#include "draw/scene/paint.h"

#include "draw/scene/embedded.h"

#include <cairo-ft.h>
#include <ft2build.h>
#include FT_FREETYPE_H
#include <pthread.h>

/* cairo keeps scaled fonts long after their last use, so a face must outlive every drawing: both
 * are made once and stay. They never change. */
static cairo_font_face_t *faces[2];

static cairo_font_face_t *face_from(FT_Library library, const unsigned char *bytes, size_t size)
{
    FT_Face face;
    if (FT_New_Memory_Face(library, bytes, (FT_Long)size, 0, &face) != 0)
        return NULL;
    return cairo_ft_font_face_create_for_ft_face(face, FT_LOAD_NO_HINTING);
}

static void make_faces(void)
{
    FT_Library library;
    if (FT_Init_FreeType(&library) != 0)
        return;
    faces[0] = face_from(library, ks_font_regular, ks_font_regular_size);
    faces[1] = face_from(library, ks_font_bold, ks_font_bold_size);
}

static bool set_face(cairo_t *cr, bool bold)
{
    static pthread_once_t once = PTHREAD_ONCE_INIT;
    (void)pthread_once(&once, make_faces);
    if (!faces[bold])
        return false;
    cairo_set_font_face(cr, faces[bold]);
    return true;
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

static void paint_run(cairo_t *cr, const ks_mark *mark, const ks_run *run, double em_mm,
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
        cr, mark->text + run->from, run->length, glyphs, run->n_glyphs, clusters, run->n_clusters,
        run->backward ? CAIRO_TEXT_CLUSTER_FLAG_BACKWARD : (cairo_text_cluster_flags_t)0);
}

static void paint_words(cairo_t *cr, const ks_scene *scene, const ks_mark *mark)
{
    const ks_look_of *look = &ks_looks[mark->look];
    if (!set_face(cr, look->bold))
        return;
    double em_mm = mark->cap_mm / KS_CAP_HEIGHT;
    ks_line line = ks_type_line(scene->type, mark->text, look->bold);
    cairo_save(cr);
    cairo_translate(cr, mark->at.x, mark->at.y);
    if (mark->upward)
        cairo_rotate(cr, -1.57079632679489662);
    cairo_set_font_size(cr, em_mm);
    set_colour(cr, look->line_rgb);
    for (int i = 0; i < line.n_runs; i++)
        paint_run(cr, mark, &line.runs[i], em_mm, scene->arena);
    cairo_restore(cr);
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
    for (int i = 0; i < scene->n; i++)
        if (scene->marks[i].kind == KS_SHAPE)
            paint_shape(cr, &scene->marks[i], scene->clip);
        else
            paint_words(cr, scene, &scene->marks[i]);
}

cairo_status_t ks_paint_sink(void *out, const unsigned char *bytes, unsigned count)
{
    ks_text_add_n(out, (const char *)bytes, count);
    return CAIRO_STATUS_SUCCESS;
}
