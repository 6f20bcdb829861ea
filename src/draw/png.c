#include "draw/canvas.h"

#include "draw/paint.h"

#include <math.h>

ks_sheet_paper ks_paper_of(ks_paper paper)
{
    if (paper == KS_LETTER)
        return (ks_sheet_paper){215.9, 279.4, 20, 12.2};
    return (ks_sheet_paper){210, 297, 20, 21};
}

/* CRC of PNG's chunks (ISO 3309, as RFC 2083 gives it), bit by bit: it covers 13 bytes. */
static uint32_t crc_of(const unsigned char *bytes, size_t size)
{
    uint32_t crc = 0xFFFFFFFFu;
    for (size_t i = 0; i < size; i++) {
        crc ^= bytes[i];
        for (int k = 0; k < 8; k++)
            crc = crc & 1 ? 0xEDB88320u ^ crc >> 1 : crc >> 1;
    }
    return ~crc;
}

static void put_32(unsigned char *at, uint32_t value)
{
    for (int i = 0; i < 4; i++)
        at[i] = (unsigned char)(value >> (24 - 8 * i));
}

/* The chunk that tells how large a pixel is, so that the picture prints to scale. */
static void pixel_size_put(ks_text *out, double dpi)
{
    unsigned char chunk[21] = {0, 0, 0, 9, 'p', 'H', 'Y', 's'};
    uint32_t per_metre = (uint32_t)lround(dpi / 0.0254);
    put_32(chunk + 8, per_metre);
    put_32(chunk + 12, per_metre);
    chunk[16] = 1;
    put_32(chunk + 17, crc_of(chunk + 4, 13));
    ks_text_add_n(out, (const char *)chunk, sizeof chunk);
}

static cairo_surface_t *picture_of(const ks_scene *scene, ks_sheet_paper paper, double dpi)
{
    double pixels_per_mm = dpi / 25.4;
    cairo_surface_t *surface =
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)lround(paper.width_mm * pixels_per_mm),
                                   (int)lround(paper.height_mm * pixels_per_mm));
    cairo_t *cr = cairo_create(surface);
    cairo_set_source_rgb(cr, 1, 1, 1);
    cairo_paint(cr);
    cairo_scale(cr, pixels_per_mm, pixels_per_mm);
    cairo_translate(cr, paper.left_mm, paper.top_mm);
    ks_paint(cr, scene);
    cairo_destroy(cr);
    return surface;
}

ks_status ks_png(const ks_scene *scene, ks_sheet_paper paper, double dpi, ks_text *out,
                 ks_error *err)
{
    enum { SIGNATURE_AND_HEADER = 33 };
    ks_text whole = {.arena = out->arena};
    cairo_surface_t *surface = picture_of(scene, paper, dpi);
    cairo_status_t status = cairo_surface_write_to_png_stream(surface, ks_paint_sink, &whole);
    cairo_surface_destroy(surface);
    if (status != CAIRO_STATUS_SUCCESS || whole.length <= SIGNATURE_AND_HEADER)
        return ks_fail(err, KS_SYSTEM, "the picture could not be drawn at %g dpi: %s", dpi,
                       cairo_status_to_string(status));
    ks_text_add_n(out, whole.text, SIGNATURE_AND_HEADER);
    pixel_size_put(out, dpi);
    ks_text_add_n(out, whole.text + SIGNATURE_AND_HEADER, whole.length - SIGNATURE_AND_HEADER);
    return KS_OK;
}
