#include "draw/scene/canvas.h"

#include "draw/scene/paint.h"

#include <math.h>

ks_sheet_paper ks_paper_of(ks_paper paper, const ks_scene *scene)
{
    ks_sheet_paper upright = paper == KS_LETTER ? (ks_sheet_paper){215.9, 279.4, 20, 12.2}
                                                : (ks_sheet_paper){210, 297, 20, 21};
    if (scene->width_mm <= scene->height_mm)
        return upright;
    return (ks_sheet_paper){upright.height_mm, upright.width_mm, upright.top_mm, upright.left_mm};
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
static void put_pixel_size(ks_text *out, double dpi)
{
    unsigned char chunk[21] = {0, 0, 0, 9, 'p', 'H', 'Y', 's'};
    uint32_t per_metre = (uint32_t)lround(dpi / 0.0254);
    put_32(chunk + 8, per_metre);
    put_32(chunk + 12, per_metre);
    chunk[16] = 1;
    put_32(chunk + 17, crc_of(chunk + 4, 13));
    ks_text_add_n(out, (const char *)chunk, sizeof chunk);
}

static cairo_surface_t *picture_of(const ks_scene *scene, ks_paper size, double dpi)
{
    ks_sheet_paper paper = ks_paper_of(size, scene);
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

static bool is_a_looks_own(uint32_t rgb)
{
    for (int i = 0; i < KS_LOOKS; i++)
        if (ks_looks[i].fill_rgb == (int32_t)rgb || ks_looks[i].line_rgb == (int32_t)rgb)
            return true;
    for (int i = 0; i <= KS_FILLS; i++)
        if (ks_fills[i] == (int32_t)rgb)
            return true;
    return false;
}

static uint32_t coarse(uint32_t rgb)
{
    uint32_t mixed = 0;
    for (int shift = 0; shift < 24; shift += 8)
        mixed |= ((rgb >> shift & 255) * 15 + 127) / 255 * 17 << shift;
    return mixed;
}

/* The mixed colours along edges in 16 steps instead of 256: no eye tells them apart, and the file
 * is half as large. */
static void edges_coarsened(cairo_surface_t *surface)
{
    cairo_surface_flush(surface);
    unsigned char *row = cairo_image_surface_get_data(surface);
    int width = cairo_image_surface_get_width(surface),
        height = cairo_image_surface_get_height(surface);
    uint32_t last = 0, becomes = 0;
    for (int y = 0; row && y < height; y++, row += cairo_image_surface_get_stride(surface)) {
        uint32_t *pixels = (uint32_t *)(void *)row;
        for (int x = 0; x < width; x++) {
            uint32_t rgb = pixels[x] & 0xFFFFFF;
            if (rgb != last)
                becomes = is_a_looks_own(rgb) ? rgb : coarse(rgb);
            last = rgb;
            pixels[x] = becomes;
        }
    }
    cairo_surface_mark_dirty(surface);
}

ks_status ks_png(const ks_scene *scene, ks_paper paper, double dpi, ks_text *out, ks_error *err)
{
    enum { SIGNATURE_AND_HEADER = 33 };
    ks_status ready = ks_paint_ready(scene->type, err);
    if (ready)
        return ready;
    ks_text whole = {.arena = out->arena};
    cairo_surface_t *surface = picture_of(scene, paper, dpi);
    edges_coarsened(surface);
    cairo_status_t status = cairo_surface_write_to_png_stream(surface, ks_paint_sink, &whole);
    cairo_surface_destroy(surface);
    if (status != CAIRO_STATUS_SUCCESS || whole.length <= SIGNATURE_AND_HEADER)
        return ks_fail(err, KS_SYSTEM, "the picture could not be drawn at %g dpi: %s", dpi,
                       cairo_status_to_string(status));
    ks_text_add_n(out, whole.text, SIGNATURE_AND_HEADER);
    put_pixel_size(out, dpi);
    ks_text_add_n(out, whole.text + SIGNATURE_AND_HEADER, whole.length - SIGNATURE_AND_HEADER);
    return KS_OK;
}
