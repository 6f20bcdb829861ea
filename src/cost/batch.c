#include "cost/batch.h"

#include "cost/fine.h"

static double parts_of(const ks_glaze *glaze, bool base_only)
{
    double parts = 0;
    for (int i = 0; i < glaze->n_lines; i++)
        if (!base_only || !glaze->lines[i].addition)
            parts += glaze->lines[i].parts;
    return parts;
}

/* A line of the recipe as a part of the base as a whole; an addition's figure is per cent of it. */
static double part_of_base(const ks_glaze *glaze, int line)
{
    const struct ks_recipe_line *of = &glaze->lines[line];
    double base = parts_of(glaze, true);
    return of->addition ? of->parts / 100 : base > 0 ? of->parts / base : 0;
}

/* The base with all its additions, in units of the base. */
static double whole_of_base(const ks_glaze *glaze)
{
    double whole = 0;
    for (int i = 0; i < glaze->n_lines; i++)
        whole += part_of_base(glaze, i);
    return whole;
}

double ks_recipe_part(const ks_glaze *glaze, int line)
{
    double whole = whole_of_base(glaze);
    return whole > 0 ? part_of_base(glaze, line) / whole : 0;
}

ks_fine ks_glaze_per_kg(const ks_order *order, const ks_glaze *glaze)
{
    if (glaze->n_lines == 0 || !(parts_of(glaze, true) > 0))
        return 0;
    ks_fine price = 0;
    for (int i = 0; i < glaze->n_lines; i++) {
        const ks_material *material = &order->materials[glaze->lines[i].material];
        double kg = ks_recipe_part(glaze, i);
        price = ks_fine_plus(
            price, ks_fine_times(ks_minor_fine(material->price_minor), kg / material->pack_kg));
    }
    return price;
}

double ks_glaze_on_piece_g(const ks_glaze *glaze, const ks_piece *piece)
{
    double m2 = piece->surface_mm2 / 1e6 / (piece->n_glazes > 0 ? piece->n_glazes : 1);
    return m2 * glaze->coats * glaze->laid_g_per_m2_coat;
}

static double wanted_g(const ks_plan *plan, int load, int glaze)
{
    const ks_load *of = &plan->loads[load];
    double grams = 0;
    for (int v = 0; v < of->n_levels; v++)
        for (int p = 0; p < of->levels[v].n_pieces; p++) {
            int which = of->levels[v].pieces[p].piece;
            const ks_piece *piece = which < 0 ? NULL : &plan->order->pieces[which];
            for (int g = 0; piece && g < piece->n_glazes; g++)
                if (piece->glazes[g] == glaze && piece->stage == KS_GLAZED)
                    grams += ks_glaze_on_piece_g(&plan->order->glazes[glaze], piece);
        }
    return grams;
}

static ks_batch batch_of(const ks_order *order, int load, int glaze, double grams, ks_arena *arena)
{
    const ks_glaze *recipe = &order->glazes[glaze];
    ks_batch batch = {.glaze = glaze, .load = load, .wanted_g = grams, .n_grams = recipe->n_lines};
    batch.grams = KS_TAKE(arena, recipe->n_lines, double);
    for (int i = 0; i < recipe->n_lines; i++)
        batch.grams[i] = grams * ks_recipe_part(recipe, i);
    batch.per_kg = ks_glaze_per_kg(order, recipe);
    batch.price = ks_fine_times(batch.per_kg, grams / 1000);
    return batch;
}

int ks_glaze_batches(const ks_plan *plan, ks_arena *arena, ks_batch **out)
{
    const ks_order *order = plan->order;
    int n = 0;
    *out = KS_TAKE(arena, plan->n_loads * order->n_glazes, ks_batch);
    for (int l = 0; l < plan->n_loads; l++)
        for (int g = 0; g < order->n_glazes; g++) {
            double grams = wanted_g(plan, l, g);
            if (grams > 0)
                (*out)[n++] = batch_of(order, l, g, grams, arena);
        }
    return n;
}

static double line_price(const ks_order *order, const ks_glaze *glaze, int line)
{
    const ks_material *material = &order->materials[glaze->lines[line].material];
    return part_of_base(glaze, line) * (double)material->price_minor / material->pack_kg;
}

/* The addition meant: of the material, or the dearest. -1 = none. */
static int addition_of(const ks_order *order, const ks_glaze *glaze, int material)
{
    int dearest = -1;
    for (int i = 0; i < glaze->n_lines; i++) {
        bool meant = material < 0 || glaze->lines[i].material == material;
        if (glaze->lines[i].addition && meant &&
            (dearest < 0 || line_price(order, glaze, i) > line_price(order, glaze, dearest)))
            dearest = i;
    }
    return dearest;
}

ks_status ks_addition_levels(const ks_order *order, int glaze, int material, int n,
                             const double *percents, ks_arena *arena, ks_addition_level *out,
                             int *line, ks_error *err)
{
    const ks_glaze *recipe = &order->glazes[glaze];
    *line = addition_of(order, recipe, material);
    if (*line < 0)
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: glazes, %s: found no %s; an addition with its per cent is needed to "
                       "compare levels of it",
                       order->file, recipe->name,
                       material < 0 ? "addition" : order->materials[material].name);
    for (int i = 0; i < n; i++) {
        ks_addition_level *level = &out[i];
        *level = (ks_addition_level){.percent = percents[i], .recipe = *recipe};
        level->recipe.lines = KS_TAKE(arena, recipe->n_lines, struct ks_recipe_line);
        for (int k = 0; k < recipe->n_lines; k++)
            level->recipe.lines[k] = recipe->lines[k];
        level->recipe.lines[*line].parts = percents[i];
        level->per_kg = ks_glaze_per_kg(order, &level->recipe);
    }
    return KS_OK;
}
