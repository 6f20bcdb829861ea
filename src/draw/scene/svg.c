#include "draw/scene/canvas.h"

static void number(ks_text *out, const char *before, double value, const char *after)
{
    ks_text_add(out, before);
    ks_drawn_number(out, value);
    ks_text_add(out, after);
}

static void rule_of(ks_text *out, int look)
{
    const ks_look_of *of = &ks_looks[look];
    ks_text_add(out, "."); /* a class is no word: it is not looked up */
    ks_text_add(out, of->name);
    ks_text_add(out, "{");
    if (look >= KS_LOOK_TEXT) {
        ks_text_print(out, "fill:#%06x%s}\n", (unsigned)of->line_rgb,
                      of->bold ? ";font-weight:bold" : "");
        return;
    }
    if (of->fill_rgb >= 0)
        ks_text_print(out, "fill:#%06x;fill-rule:evenodd", (unsigned)of->fill_rgb);
    else
        ks_text_add(out, "fill:none");
    if (of->line_mm > 0) {
        ks_text_print(out, ";stroke:#%06x", (unsigned)of->line_rgb);
        number(out, ";stroke-width:", of->line_mm, ";stroke-linejoin:round");
    }
    for (int i = 0; i < 4 && of->dash_mm[i] > 0; i++)
        number(out, i == 0 ? ";stroke-dasharray:" : " ", of->dash_mm[i], "");
    ks_text_add(out, "}\n");
}

static void put_rules(const bool *used, ks_text *out)
{
    ks_text_add(out, "svg text{font-family:\"DejaVu Sans\",Verdana,sans-serif;white-space:pre}\n");
    for (int look = 0; look < KS_LOOKS; look++) {
        if (!used[look])
            continue;
        ks_text_add(out, "svg ");
        rule_of(out, look);
    }
    for (int fill = 1; fill <= KS_FILLS; fill++)
        ks_text_print(out, "svg .fill%d{fill:#%06x}\n", fill, (unsigned)ks_fills[fill]);
}

void ks_svg_rules(ks_text *out)
{
    bool used[KS_LOOKS];
    for (int look = 0; look < KS_LOOKS; look++)
        used[look] = true;
    put_rules(used, out);
}

/* Only the rules that the scene uses. */
static void put_style(const ks_scene *scene, ks_text *out)
{
    bool used[KS_LOOKS] = {false};
    for (int i = 0; i < scene->n; i++)
        used[scene->marks[i].look] = true;
    ks_text_add(out, "<style>");
    put_rules(used, out);
    ks_text_add(out, "</style>\n");
}

static void put_points(ks_text *out, const ks_stroke *stroke)
{
    int n = stroke->verb == 'Z' ? 0 : stroke->verb == 'C' ? 3 : 1;
    char verb[2] = {stroke->verb, '\0'};
    ks_text_add(out, verb);
    for (int i = 0; i < n; i++) {
        number(out, i ? " " : "", stroke->p[i].x, " ");
        ks_drawn_number(out, stroke->p[i].y);
    }
}

static void put_class(ks_text *out, const ks_mark *mark)
{
    ks_text_print(out, " class=\"%s", ks_looks[mark->look].name);
    if (mark->fill > 0)
        ks_text_print(out, " fill%d", mark->fill);
    if (mark->piece > 0)
        ks_text_print(out, " n%d", mark->piece);
    ks_text_add(out, "\"");
}

static void put_shape(ks_text *out, const ks_mark *mark)
{
    ks_text_add(out, "<path");
    put_class(out, mark);
    if (mark->clipped)
        ks_text_add(out, " clip-path=\"url(#part)\"");
    ks_text_add(out, " d=\"");
    for (int i = 0; i < mark->path.n; i++)
        put_points(out, &mark->path.at[i]);
    ks_text_add(out, "\"/>\n");
}

/* Left to right text starts at its left end; text from right to left starts at its right end, so
 * it is anchored by its own end, which is the left one again. */
static void put_words(ks_text *out, const ks_mark *mark)
{
    ks_text_add(out, "<text");
    put_class(out, mark);
    number(out, " x=\"", mark->at.x, "\"");
    number(out, " y=\"", mark->at.y, "\"");
    number(out, " font-size=\"", mark->cap_mm / KS_CAP_HEIGHT, "\"");
    number(out, " textLength=\"", mark->width_mm, "\" lengthAdjust=\"spacingAndGlyphs\"");
    if (mark->backward)
        ks_text_add(out, " direction=\"rtl\" text-anchor=\"end\"");
    if (mark->upward) {
        number(out, " transform=\"rotate(-90 ", mark->at.x, " ");
        number(out, "", mark->at.y, ")\"");
    }
    ks_text_add(out, ">");
    ks_escape_drawn(out, mark->text);
    ks_text_add(out, "</text>\n");
}

static void put_marks(const ks_scene *scene, ks_text *out)
{
    for (int i = 0; i < scene->n; i++)
        if (scene->marks[i].kind == KS_SHAPE)
            put_shape(out, &scene->marks[i]);
        else
            put_words(out, &scene->marks[i]);
}

static void put_clip(const ks_scene *scene, ks_text *out)
{
    if (!scene->has_clip)
        return;
    number(out, "<clipPath id=\"part\"><rect x=\"", scene->clip.x0, "\"");
    number(out, " y=\"", scene->clip.y0, "\"");
    number(out, " width=\"", scene->clip.x1 - scene->clip.x0, "\"");
    number(out, " height=\"", scene->clip.y1 - scene->clip.y0, "\"/></clipPath>\n");
}

static void tell(const ks_scene *scene, ks_text *out)
{
    ks_text_add(out, "<title>");
    ks_escape_drawn(out, ks_type_clean(scene->arena, scene->title));
    ks_text_add(out, "</title>\n<desc>");
    ks_escape_drawn(out, ks_type_clean(scene->arena, scene->about));
    ks_text_add(out, "</desc>\n");
}

void ks_svg(const ks_scene *scene, ks_paper size, ks_text *out)
{
    ks_sheet_paper paper = ks_paper_of(size, scene);
    ks_text_add(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                     "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\"");
    number(out, " width=\"", paper.width_mm, "mm\"");
    number(out, " height=\"", paper.height_mm, "mm\"");
    number(out, " viewBox=\"0 0 ", paper.width_mm, " ");
    number(out, "", paper.height_mm, "\">\n");
    tell(scene, out);
    put_style(scene, out);
    ks_text_add(out, "<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n");
    number(out, "<g transform=\"translate(", paper.left_mm, " ");
    number(out, "", paper.top_mm, ")\">\n");
    put_clip(scene, out);
    put_marks(scene, out);
    ks_text_add(out, "</g>\n</svg>\n");
}

static void put_inline(const ks_scene *scene, bool styled, ks_text *out)
{
    ks_text_add(out, "<svg role=\"img\"");
    number(out, " viewBox=\"0 0 ", scene->width_mm, " ");
    number(out, "", scene->height_mm, "\">\n");
    tell(scene, out);
    if (styled)
        put_style(scene, out);
    put_marks(scene, out);
    ks_text_add(out, "</svg>\n");
}

void ks_svg_inline(const ks_scene *scene, ks_text *out)
{
    put_inline(scene, false, out);
}

void ks_svg_styled(const ks_scene *scene, ks_text *out)
{
    put_inline(scene, true, out);
}
