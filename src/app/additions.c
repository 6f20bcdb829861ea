#include "app/additions.h"

#include <stdlib.h>
#include <string.h>

static int name_glaze(const ks_order *order, const char *name)
{
    for (int i = 0; i < order->n_glazes; i++)
        if (strcmp(order->glazes[i].id, name) == 0)
            return i;
    return -1;
}

static int name_material(const ks_order *order, const char *name)
{
    for (int i = 0; i < order->n_materials; i++)
        if (strcmp(order->materials[i].id, name) == 0)
            return i;
    return -1;
}

/* "5,10,12.5": numbers with points between commas. How many, or -1. */
static int read_percents(const char *told, double *percents)
{
    int n = 0;
    for (;; told++) {
        char *end;
        if (n == KS_ADDITIONS_MOST || strspn(told, "0123456789.") == 0)
            return -1;
        percents[n] = strtod(told, &end);
        if (end == told || !(percents[n++] <= 1000))
            return -1;
        told = end;
        if (!*told)
            return n;
        if (*told != ',')
            return -1;
    }
}

ks_status ks_additions_read(const ks_order *order, const char *told, ks_arena *arena,
                            ks_additions *out, ks_error *err)
{
    double percents[KS_ADDITIONS_MOST];
    size_t named = strcspn(told, ":="), whole = strcspn(told, "=");
    int material = -1;
    out->glaze = name_glaze(order, ks_arena_text_n(arena, told, named));
    if (out->glaze < 0)
        return ks_fail(err, KS_BAD_USAGE, "--additions: found \"%s\"; it starts with a glaze's id",
                       told);
    if (told[named] == ':') {
        const char *name = ks_arena_text_n(arena, told + named + 1, whole - named - 1);
        material = name_material(order, name);
        if (material < 0)
            return ks_fail(err, KS_BAD_USAGE,
                           "--additions: found the material \"%s\"; the order has none of that id",
                           name);
    }
    out->n = told[whole] == '=' ? read_percents(told + whole + 1, percents) : -1;
    if (out->n < 1)
        return ks_fail(err, KS_BAD_USAGE,
                       "--additions: found \"%s\"; up to %d per cents are needed, as in %s=5,10",
                       told, KS_ADDITIONS_MOST, order->glazes[out->glaze].id);
    return ks_addition_levels(order, out->glaze, material, out->n, percents, arena, out->levels,
                              &out->line, err);
}

ks_status ks_additions_costed(const ks_plan *plan, const ks_firing_result *fired,
                              const ks_cost_options *options, ks_arena *arena, ks_additions *out,
                              ks_error *err)
{
    ks_status status = KS_OK;
    for (int i = 0; i < out->n && !status; i++) {
        ks_order order = *plan->order;
        ks_plan changed = *plan;
        order.glazes = KS_TAKE(arena, order.n_glazes, ks_glaze);
        memcpy(order.glazes, plan->order->glazes, (size_t)order.n_glazes * sizeof(ks_glaze));
        order.glazes[out->glaze] = out->levels[i].recipe;
        changed.order = &order;
        status = ks_cost(&changed, fired, options, arena, &out->costings[i], err);
    }
    return status;
}

double ks_additions_on_piece_g(const ks_order *order, const ks_additions *additions, int piece)
{
    const ks_piece *of = &order->pieces[piece];
    for (int g = 0; g < of->n_glazes && of->stage == KS_GLAZED; g++)
        if (of->glazes[g] == additions->glaze)
            return ks_glaze_on_piece_g(&order->glazes[additions->glaze], of);
    return 0;
}
