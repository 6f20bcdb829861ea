#include "app/record/seen_thirds.h"

#include "base/language.h"
#include "base/text.h"
#include "kilnstow/cone.h"

#include <math.h>
#include <string.h>

enum { ALL = (1 << KS_THIRDS) - 1, NAMED = 8 };

/* A kiln by its cones: each third against the mean of a firing, 0 where it is not sure. */
typedef struct {
    const ks_kiln *kiln;
    int firings;
    bool any;
    double warmer_k[KS_THIRDS];
} kiln_thirds;

static void sum_up(const ks_kiln_map *map, kiln_thirds *out)
{
    out->firings = map->firings;
    for (int third = 0; third < KS_THIRDS; third++) {
        double n = 0, sum = 0, variance = 0;
        for (int i = 0; i < map->n; i++) {
            const ks_map_place *place = &map->places[i];
            if (strcmp(place->height, ks_third_name(third)) != 0)
                continue;
            n += place->n;
            sum += place->n * place->warmer_k;
            variance += place->n * place->n * place->sigma_k * place->sigma_k;
        }
        bool sure = n > 0 && fabs(sum) > 2 * sqrt(variance);
        out->warmer_k[third] = sure ? sum / n : 0;
        out->any = out->any || sure;
    }
}

/* Thirds in which the piece sees a cone it asks for, a bit each; none where none does. */
static unsigned seen_by(const ks_piece *piece, const ks_firing *firing, const kiln_thirds *of)
{
    int wanted = firing->cone && *firing->cone ? ks_cone_find(firing->cone) : -1;
    int low = piece->cone_low ? ks_cone_find(piece->cone_low) : -1;
    int high = piece->cone_high ? ks_cone_find(piece->cone_high) : -1;
    unsigned mask = 0;
    if (wanted < 0 || low < 0 || high < 0)
        return ALL;
    for (int third = 0; third < KS_THIRDS; third++) {
        double seen_c = ks_cone_place_c(wanted) + of->warmer_k[third];
        if (seen_c >= ks_cone_least_c(low) && seen_c <= ks_cone_most_c(high))
            mask |= 1U << third;
    }
    return mask;
}

/* "bottom, top": those of the mask. */
static const char *names_of(unsigned mask, ks_arena *arena)
{
    ks_text names = {.arena = arena};
    for (int third = 0; third < KS_THIRDS; third++)
        if (mask & (1U << third)) {
            ks_text_add(&names, names.length > 0 ? ", " : "");
            ks_text_add(&names, ks_tr(ks_third_name(third)));
        }
    return ks_text_end(&names);
}

static void add_piece(ks_text *text, int n, const ks_piece *piece, unsigned mask)
{
    if (n > NAMED)
        return;
    ks_text_add(text, n > 1 ? ", " : "");
    if (n == NAMED)
        ks_text_add(text, ks_tr("and more"));
    else if (mask == 0)
        ks_text_print(text, "%s (sees it nowhere; it stands anywhere)", piece->id);
    else
        ks_text_print(text, "%s (%s)", piece->id, names_of(mask, text->arena));
}

/* One line of a kiln, and for each piece the thirds it may stand in. */
static const char *judge(const ks_order *order, const kiln_thirds *of, unsigned char *thirds,
                         ks_arena *arena)
{
    ks_text concerned = {.arena = arena};
    int n = 0;
    for (int f = 0; f < order->n_firings; f++)
        for (int i = 0; i < order->n_pieces; i++) {
            const ks_piece *piece = &order->pieces[i];
            unsigned mask = seen_by(piece, &order->firings[f], of);
            thirds[f * order->n_pieces + i] = (unsigned char)(mask ? mask : ALL);
            if (mask != ALL && ks_piece_suits(order, piece, &order->firings[f], NULL))
                add_piece(&concerned, ++n, piece, mask);
        }
    return ks_arena_print(
        arena,
        "%s by the cones of %d firings: bottom %+.0f K, middle %+.0f K, top %+.0f K against the "
        "mean of a firing; ware that asks for a range of cones stands where it sees it: %s",
        of->kiln->id, of->firings, of->warmer_k[0], of->warmer_k[1], of->warmer_k[2],
        n > 0 ? ks_text_end(&concerned) : ks_tr("all sees it everywhere"));
}

static ks_status look_at(ks_book *book, const ks_kiln *kiln, ks_arena *arena, kiln_thirds *out,
                         ks_error *err)
{
    ks_kiln_map map;
    *out = (kiln_thirds){.kiln = kiln};
    ks_status status = ks_book_map(book, kiln->id, arena, &map, err);
    if (!status)
        sum_up(&map, out);
    return status;
}

ks_status ks_seen_thirds_of(const char *book_path, const ks_order *order, ks_arena *arena,
                            ks_seen_thirds *out, ks_error *err)
{
    ks_book *book;
    int each = order->n_firings * order->n_pieces;
    unsigned char *thirds = KS_TAKE(arena, order->n_kilns * each, unsigned char);
    memset(thirds, ALL, (size_t)order->n_kilns * (size_t)each);
    *out = (ks_seen_thirds){.words = KS_TAKE(arena, order->n_kilns, const char *)};
    ks_status status = ks_book_open(book_path, KS_BOOK_LOOK, &book, err);
    for (int k = 0; k < order->n_kilns && !status; k++) {
        kiln_thirds of;
        status = look_at(book, &order->kilns[k], arena, &of, err);
        if (status || !of.any)
            continue;
        out->thirds = thirds;
        out->words[out->n_words++] = judge(order, &of, thirds + k * each, arena);
    }
    ks_book_close(book);
    return status;
}
