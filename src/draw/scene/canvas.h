/* canvas.h: turns scenes into files in memory: PDF and PNG by cairo, SVG by our own writer. */
#ifndef KILNSTOW_DRAW_SCENE_CANVAS_H
#define KILNSTOW_DRAW_SCENE_CANVAS_H

#include "draw/scene/scene.h"
#include "kilnstow/draw.h"

/* The frame of every sheet fits both papers at full size; the filing margin is at the left of an
 * upright sheet, and at the top of one that is wider than high, which is printed on turned paper.
 */
typedef struct {
    double width_mm, height_mm; /* of the paper */
    double left_mm, top_mm;     /* of the frame's upper left corner */
} ks_sheet_paper;
ks_sheet_paper ks_paper_of(ks_paper paper, const ks_scene *scene);

typedef struct {
    const char *title, *author;
    int64_t created_s; /* since 1970, UTC */
} ks_pdf_about;

/* One page for each scene, with a bookmark. Fails for a font that cannot be drawn. */
ks_status ks_pdf(ks_scene *const *scenes, int n, ks_paper paper, const ks_pdf_about *about,
                 ks_text *out, ks_error *err);

ks_status ks_png(const ks_scene *scene, ks_paper paper, double dpi, ks_text *out, ks_error *err);

void ks_svg(const ks_scene *scene, ks_paper paper, ks_text *out);

/* The <svg> element alone, for a page (of HTML, which needs no namespace); its looks are the page's
 * (ks_svg_rules) or its own. */
void ks_svg_inline(const ks_scene *scene, ks_text *out);
void ks_svg_styled(const ks_scene *scene, ks_text *out);
void ks_svg_rules(ks_text *out);

/* NULL if the bytes are a whole PDF (header, cross reference where the end says it is, end mark,
 * every object where the cross reference says); else what is wrong. */
const char *ks_pdf_fault(const unsigned char *bytes, size_t size);

#endif
