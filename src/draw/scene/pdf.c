#include "draw/scene/canvas.h"

#include "draw/scene/paint.h"

#include <cairo-pdf.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define POINTS_PER_MM (72 / 25.4)

static void set_about(cairo_surface_t *surface, const ks_pdf_about *about)
{
    time_t created = (time_t)about->created_s;
    struct tm utc;
    char date[40] = "1970-01-01T00:00:00Z";
    if (gmtime_r(&created, &utc) && utc.tm_year >= 0 && utc.tm_year < 8000)
        (void)strftime(date, sizeof date, "%Y-%m-%dT%H:%M:%SZ", &utc);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, date);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, about->title);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_AUTHOR, about->author);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "kilnstow");
}

/* Sheets of one part stand under its bookmark, which leads to the first of them. */
static void add_bookmark(cairo_surface_t *surface, const ks_scene *scene, const ks_scene *before,
                         int page, int *part)
{
    char where[32];
    (void)snprintf(where, sizeof where, "page=%d", page);
    if (!*scene->part)
        *part = CAIRO_PDF_OUTLINE_ROOT;
    else if (!before || strcmp(before->part, scene->part) != 0)
        *part = cairo_pdf_surface_add_outline(surface, CAIRO_PDF_OUTLINE_ROOT, scene->part, where,
                                              (cairo_pdf_outline_flags_t)0);
    cairo_pdf_surface_add_outline(surface, *part, scene->title, where,
                                  (cairo_pdf_outline_flags_t)0);
}

/* The tag of the whole document is begun and ended on a page: cairo drops what stands between them.
 */
static void paint_page(cairo_surface_t *surface, cairo_t *cr, const ks_scene *scene, ks_paper size,
                       bool first, bool last)
{
    ks_sheet_paper paper = ks_paper_of(size, scene);
    cairo_pdf_surface_set_size(surface, paper.width_mm * POINTS_PER_MM,
                               paper.height_mm * POINTS_PER_MM);
    cairo_save(cr);
    cairo_scale(cr, POINTS_PER_MM, POINTS_PER_MM);
    cairo_translate(cr, paper.left_mm, paper.top_mm);
    if (first)
        cairo_tag_begin(cr, "Document", NULL);
    cairo_tag_begin(cr, "Sect", NULL);
    ks_paint(cr, scene);
    cairo_tag_end(cr, "Sect");
    if (last)
        cairo_tag_end(cr, "Document");
    cairo_restore(cr);
    cairo_show_page(cr);
}

ks_status ks_pdf(ks_scene *const *scenes, int n, ks_paper paper, const ks_pdf_about *about,
                 ks_text *out, ks_error *err)
{
    ks_status ready = n > 0 ? ks_paint_ready(scenes[0]->type, err) : KS_OK;
    if (ready)
        return ready;
    const double any = 100; /* each page sets its own size */
    cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(ks_paint_sink, out, any, any);
    cairo_t *cr = cairo_create(surface);
    set_about(surface, about);
    int part = CAIRO_PDF_OUTLINE_ROOT;
    for (int i = 0; i < n; i++) {
        add_bookmark(surface, scenes[i], i > 0 ? scenes[i - 1] : NULL, i + 1, &part);
        paint_page(surface, cr, scenes[i], paper, i == 0, i == n - 1);
    }
    cairo_surface_finish(surface);
    cairo_status_t drawn = cairo_status(cr), kept = cairo_surface_status(surface);
    cairo_destroy(cr);
    cairo_surface_destroy(surface);
    if (drawn != CAIRO_STATUS_SUCCESS || kept != CAIRO_STATUS_SUCCESS)
        return ks_fail(err, KS_SYSTEM, "the PDF could not be drawn: %s",
                       cairo_status_to_string(drawn != CAIRO_STATUS_SUCCESS ? drawn : kept));
    const char *fault = ks_pdf_fault((const unsigned char *)out->text, out->length);
    return fault ? ks_fail(err, KS_SYSTEM, "the PDF came out broken (%s); draw it again", fault)
                 : KS_OK;
}

/* The last place where `what` stands in the bytes, or NULL. */
static const char *last_of(const char *bytes, size_t size, const char *what)
{
    size_t length = strlen(what);
    for (size_t at = size >= length ? size - length + 1 : 0; at-- > 0;)
        if (memcmp(bytes + at, what, length) == 0)
            return bytes + at;
    return NULL;
}

/* Reads the number at bytes[*at] and moves past it; -1 if there is none. */
static long number_at(const char *bytes, size_t size, size_t *at)
{
    while (*at < size && (bytes[*at] == ' ' || bytes[*at] == '\n' || bytes[*at] == '\r'))
        ++*at;
    long value = -1;
    for (; *at < size && bytes[*at] >= '0' && bytes[*at] <= '9' && value < 1000000000; ++*at)
        value = (value < 0 ? 0 : 10 * value) + (bytes[*at] - '0');
    return value;
}

static const char *entry_fault(const char *bytes, size_t size, const char *entry, long number)
{
    if (entry[17] != 'n')
        return NULL;
    size_t at = (size_t)strtoul(entry, NULL, 10);
    if (at >= size || number_at(bytes, size, &at) != number)
        return "an object is not where the cross reference says";
    return NULL;
}

static const char *table_fault(const char *bytes, size_t size, size_t at)
{
    enum { ENTRY = 20 };
    if (at + 5 > size || memcmp(bytes + at, "xref\n", 5) != 0)
        return "no cross reference where the end says";
    at += 5;
    long first = number_at(bytes, size, &at), count = number_at(bytes, size, &at);
    while (at < size && bytes[at] != '\n')
        at++;
    at++;
    if (first != 0 || count < 2 || at + (size_t)count * ENTRY > size)
        return "the cross reference is cut short";
    for (long i = 0; i < count; i++) {
        const char *fault = entry_fault(bytes, size, bytes + at + i * ENTRY, i);
        if (fault)
            return fault;
    }
    at += (size_t)count * ENTRY;
    return at + 7 <= size && memcmp(bytes + at, "trailer", 7) == 0 ? NULL : "no trailer";
}

const char *ks_pdf_fault(const unsigned char *file, size_t size)
{
    const char *bytes = (const char *)file;
    if (size < 32 || memcmp(bytes, "%PDF-1.", 7) != 0)
        return "no header";
    if (memcmp(bytes + size - 6, "%%EOF\n", 6) != 0)
        return "no end mark";
    const char *start = last_of(bytes, size, "startxref");
    if (!start)
        return "no startxref";
    size_t at = (size_t)(start - bytes) + 9;
    long table = number_at(bytes, size, &at);
    return table < 0 ? "no startxref" : table_fault(bytes, size, (size_t)table);
}
