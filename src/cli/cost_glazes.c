/* Glazes of a costing in words: what to weigh, and one glaze at several levels of an addition. */
#include "cli/cost_tell.h"

#include "base/money_text.h"
#include "cost/batch.h"
#include "cost/fine.h"

#include <stdio.h>

static const char dust[] =
    "\nDry glaze materials are dust that harms lungs, and some are poisonous: weigh them "
    "wearing a\nfitted respirator, wipe up wet, wash hands.\n";

static void tell_cautions(const ks_order *order, const ks_glaze *glaze)
{
    for (int k = 0; k < glaze->n_lines; k++) {
        const ks_material *material = &order->materials[glaze->lines[k].material];
        if (*material->caution)
            printf("  %12s    %s: %s\n", "caution", material->name, material->caution);
    }
}

void ks_tell_batches(const ks_cost_outcome *outcome, ks_arena *arena)
{
    ks_batch *batches;
    const ks_order *order = outcome->plan->order;
    int n = ks_glaze_batches(outcome->plan, arena, &batches);
    for (int i = 0; i < n; i++) {
        const ks_batch *batch = &batches[i];
        const ks_glaze *glaze = &order->glazes[batch->glaze];
        printf("\nGlaze %s for load %d: %.0f g dry, %s %s\n", glaze->name, batch->load + 1,
               batch->wanted_g,
               ks_money_print(ks_fine_minor(batch->price), outcome->costing.digits, arena),
               order->currency);
        if (batch->n_grams == 0)
            printf("  no recipe is given\n");
        for (int k = 0; k < batch->n_grams; k++)
            printf("  %10.1f g  %s%s\n", batch->grams[k],
                   order->materials[glaze->lines[k].material].name,
                   glaze->lines[k].addition ? ", added" : "");
        tell_cautions(order, glaze);
    }
    printf("%s", n > 0 ? dust : "\nNo piece of the plan carries glaze.\n");
}

/* Grams to weigh for all loads' pieces together, line by line. */
static void weigh_levels(const ks_cost_outcome *outcome, ks_arena *arena)
{
    const ks_additions *additions = outcome->additions;
    const ks_order *order = outcome->plan->order;
    double wanted_g = 0;
    for (int i = 0; i < outcome->costing.n_pieces; i++)
        wanted_g += ks_additions_on_piece_g(order, additions, outcome->costing.pieces[i].piece);
    printf("  %-26s", ks_arena_print(arena, "grams, %.0f dry in all", wanted_g));
    for (int i = 0; i < additions->n; i++)
        printf("%11g %%", additions->levels[i].percent);
    printf("\n");
    for (int k = 0; k < order->glazes[additions->glaze].n_lines; k++) {
        printf("  %-26s", order->materials[additions->levels[0].recipe.lines[k].material].name);
        for (int i = 0; i < additions->n; i++)
            printf("%13.1f", wanted_g * ks_recipe_part(&additions->levels[i].recipe, k));
        printf("\n");
    }
}

/* Its glaze, cost and retail price at each level. */
static void price_levels(const ks_cost_outcome *outcome, int place, ks_arena *arena)
{
    const ks_additions *additions = outcome->additions;
    const ks_costing *costing = &outcome->costing;
    const char *id = outcome->plan->order->pieces[costing->pieces[place].piece].id;
    double grams =
        ks_additions_on_piece_g(outcome->plan->order, additions, costing->pieces[place].piece);
    printf("  %-26s", ks_arena_print(arena, "%s, %.1f g", id, grams));
    for (int i = 0; i < additions->n; i++)
        printf("%13s", ks_fine_print(additions->costings[i].pieces[place].glaze, costing->digits, 1,
                                     arena));
    printf("\n  %-26s", "  cost");
    for (int i = 0; i < additions->n; i++)
        printf("%13s", ks_money_print(additions->costings[i].pieces[place].cost_minor,
                                      costing->digits, arena));
    printf("\n");
    if (!costing->pieces[place].worked)
        return;
    printf("  %-26s", "  retail");
    for (int i = 0; i < additions->n; i++)
        printf("%13s", ks_money_print(additions->costings[i].pieces[place].retail_minor,
                                      costing->digits, arena));
    printf("\n");
}

void ks_tell_additions(const ks_cost_outcome *outcome, ks_arena *arena)
{
    const ks_additions *additions = outcome->additions;
    const ks_costing *costing = &outcome->costing;
    const ks_order *order = outcome->plan->order;
    const ks_glaze *glaze = &order->glazes[additions->glaze];
    printf("Glaze %s with %s at several levels:\n", glaze->name,
           order->materials[glaze->lines[additions->line].material].name);
    weigh_levels(outcome, arena);
    printf("  %-26s", ks_arena_print(arena, "%s for a kg, dry", costing->currency));
    for (int i = 0; i < additions->n; i++)
        printf("%13s", ks_fine_print(additions->levels[i].per_kg, costing->digits, 0, arena));
    printf("\n\n  glaze on each piece, %s\n", costing->currency);
    for (int i = 0; i < costing->n_pieces; i++)
        if (ks_additions_on_piece_g(order, additions, costing->pieces[i].piece) > 0 &&
            !ks_cost_told_before(costing, i))
            price_levels(outcome, i, arena);
    tell_cautions(order, glaze);
}
