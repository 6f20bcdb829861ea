#include "app/answers/answer_log.h"

#include "app/answers/answer_frame.h"

#include <math.h>

static void open_answer(ks_json_out *out, int n, const char *const *warnings)
{
    ks_answer_open(out, "log", "done");
    ks_answer_texts(out, "warnings", n, warnings);
    ks_out_object(out, "result");
}

static void add_losses(ks_json_out *out, const char *key, int n, const ks_loss *losses)
{
    ks_out_array(out, key);
    for (int i = 0; i < n; i++) {
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "id", losses[i].piece);
        ks_out_whole(out, "copies", losses[i].copies);
        ks_out_text(out, "third", *losses[i].third ? losses[i].third : NULL);
        ks_out_text(out, "why", losses[i].why);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void add_corrections(ks_json_out *out, const ks_book_firing *firing)
{
    ks_out_array(out, "corrections");
    for (int i = 0; i < firing->n_corrections; i++) {
        const ks_correction *what = &firing->corrections[i];
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "id", what->piece);
        ks_out_text(out, "level", *what->level ? what->level : NULL);
        ks_out_whole(out, "copies", what->copies);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void add_lists(ks_json_out *out, const ks_book_firing *firing)
{
    ks_out_array(out, "cones");
    for (int i = 0; i < firing->n_cones; i++) {
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "level", firing->cones[i].level);
        ks_out_text(out, "side", *firing->cones[i].side ? firing->cones[i].side : NULL);
        ks_out_text(out, "cone", firing->cones[i].cone);
        ks_out_end(out);
    }
    ks_out_end(out);
    add_losses(out, "lost", firing->n_losses, firing->losses);
    add_losses(out, "again", firing->n_again, firing->again);
    add_corrections(out, firing);
    ks_out_array(out, "shares");
    for (int i = 0; i < firing->n_charges; i++) {
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "member", firing->charges[i].member);
        ks_out_whole(out, "pieces", firing->charges[i].pieces);
        ks_out_whole(out, "minor", firing->charges[i].minor);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void add_entry(ks_json_out *out, const ks_book_firing *firing)
{
    ks_out_object(out, NULL);
    ks_out_whole(out, "n", firing->mark.n);
    ks_out_whole(out, "edition", firing->mark.edition);
    ks_out_text(out, "kiln", firing->kiln);
    ks_out_text(out, "title", firing->title);
    ks_out_text(out, "plan_id", firing->plan);
    ks_out_whole(out, "load", firing->load);
    ks_out_text(out, "start", firing->started);
    ks_out_text(out, "end", *firing->ended ? firing->ended : NULL);
    ks_out_number(out, "kwh", firing->kwh);
    ks_out_number(out, "minutes", firing->minutes);
    ks_out_text(out, "currency", *firing->currency ? firing->currency : NULL);
    if (*firing->currency)
        ks_out_whole(out, "bill_minor", firing->bill_minor);
    else
        ks_out_null(out, "bill_minor");
    ks_out_text(out, "note", firing->note);
    ks_out_text(out, "struck", *firing->struck ? firing->struck : NULL);
    add_lists(out, firing);
    ks_out_end(out);
}

const char *ks_answer_log(int n, const ks_book_firing *firings, const ks_log_notes *notes,
                          ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    open_answer(&out, notes ? notes->n : 0, notes ? notes->texts : NULL);
    ks_out_array(&out, "entries");
    for (int i = 0; i < n; i++)
        add_entry(&out, &firings[i]);
    ks_out_end(&out);
    return ks_answer_close(&out);
}

const char *ks_answer_learnt(const ks_learnt *learnt, ks_arena *arena)
{
    const ks_tuning *tuning = &learnt->tuning;
    ks_json_out out = {.text.arena = arena};
    open_answer(&out, learnt->n_warnings, learnt->warnings);
    ks_out_text(&out, "kiln", learnt->kiln);
    ks_out_whole(&out, "firings", learnt->n);
    ks_out_number(&out, "conductance", tuning->as_built);
    ks_out_number(&out, "conductance_sd", tuning->as_built_spread);
    ks_out_number(&out, "stored_heat", tuning->store_factor);
    ks_out_number(&out, "stored_heat_sd", tuning->store_tuned ? tuning->store_spread : (double)NAN);
    ks_out_number(&out, "error_before_percent", 100 * tuning->before);
    ks_out_number(&out, "error_percent", 100 * tuning->after);
    ks_out_number(&out, "held_out_percent", 100 * tuning->held_out);
    ks_out_number(&out, "drift_percent_a_firing", 100 * learnt->drift);
    ks_out_array(&out, "used");
    for (int i = 0; i < learnt->n; i++) {
        ks_out_object_flat(&out, NULL);
        ks_out_whole(&out, "n", learnt->entries[i]);
        ks_out_number(&out, "off_percent", 100 * tuning->off[i]);
        ks_out_end(&out);
    }
    ks_out_end(&out);
    ks_answer_texts(&out, "warnings", learnt->n_warnings, learnt->warnings);
    return ks_answer_close(&out);
}

const char *ks_answer_map(const ks_kiln_map *map, const char *kiln, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    open_answer(&out, 0, NULL);
    ks_out_text(&out, "kiln", kiln);
    ks_out_whole(&out, "firings", map->firings);
    ks_out_array(&out, "places");
    for (int i = 0; i < map->n; i++) {
        const ks_map_place *place = &map->places[i];
        ks_out_object_flat(&out, NULL);
        ks_out_text(&out, "height", place->height);
        ks_out_text(&out, "side", *place->side ? place->side : NULL);
        ks_out_whole(&out, "cones", place->n);
        ks_out_number(&out, "warmer_k", place->warmer_k);
        ks_out_number(&out, "sigma_k", place->sigma_k);
        ks_out_end(&out);
    }
    ks_out_end(&out);
    return ks_answer_close(&out);
}

static void add_parts(ks_json_out *out, const char *key, const ks_losses *losses, int by)
{
    ks_out_array(out, key);
    for (int i = 0; i < losses->n[by]; i++) {
        const ks_loss_part *part = &losses->parts[by][i];
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "value", part->value);
        ks_out_whole(out, "copies", part->copies);
        ks_out_number(out, "lost", part->lost);
        ks_out_number(out, "factor", part->factor);
        ks_out_number(out, "sigma", part->sigma);
        ks_out_end(out);
    }
    ks_out_end(out);
}

const char *ks_answer_losses(const ks_losses *losses, ks_arena *arena)
{
    static const char *const keys[KS_LOST_BY] = {"by_kind", "by_glaze", "by_owner", "by_third"};
    ks_json_out out = {.text.arena = arena};
    open_answer(&out, 0, NULL);
    ks_out_whole(&out, "firings", losses->firings);
    ks_out_whole(&out, "copies", losses->copies);
    ks_out_number(&out, "lost", losses->lost);
    ks_out_number(&out, "rate", losses->rate);
    for (int by = 0; by < KS_LOST_BY; by++)
        add_parts(&out, keys[by], losses, by);
    return ks_answer_close(&out);
}

const char *ks_answer_accounts(int n, const ks_account *accounts, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    open_answer(&out, 0, NULL);
    ks_out_array(&out, "accounts");
    for (int i = 0; i < n; i++) {
        const ks_account *account = &accounts[i];
        ks_out_object(&out, NULL);
        ks_out_text(&out, "member", account->member);
        ks_out_text(&out, "name", account->name);
        ks_out_text(&out, "currency", account->currency);
        ks_out_whole(&out, "before_minor", account->before);
        ks_out_array(&out, "lines");
        for (int l = 0; l < account->n; l++) {
            const ks_account_line *line = &account->lines[l];
            ks_out_object_flat(&out, NULL);
            ks_out_text(&out, "day", line->day);
            ks_out_text(&out, "kind", line->payment ? "payment" : "firing");
            ks_out_whole(&out, "n", line->entry);
            ks_out_text(&out, "what", line->what);
            ks_out_whole(&out, "pieces", line->pieces);
            ks_out_whole(&out, "minor", line->minor);
            ks_out_whole(&out, "owed_minor", line->balance);
            ks_out_end(&out);
        }
        ks_out_end(&out);
        ks_out_whole(&out, "owed_minor", account->owed);
        ks_out_end(&out);
    }
    ks_out_end(&out);
    return ks_answer_close(&out);
}

const char *ks_answer_waiting(int n, const ks_waiting_ware *waiting, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    open_answer(&out, 0, NULL);
    ks_out_array(&out, "waiting");
    for (int i = 0; i < n; i++) {
        ks_out_object_flat(&out, NULL);
        ks_out_text(&out, "member", waiting[i].member);
        ks_out_text(&out, "id", waiting[i].piece);
        ks_out_whole(&out, "copies", waiting[i].copies);
        ks_out_whole(&out, "times", waiting[i].times);
        ks_out_text(&out, "since", waiting[i].since);
        ks_out_text(&out, "why", waiting[i].why);
        ks_out_end(&out);
    }
    ks_out_end(&out);
    return ks_answer_close(&out);
}

const char *ks_answer_health(const ks_book_health *health, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    ks_answer_open(&out, "log", *health->says ? "damaged" : "done");
    ks_answer_texts(&out, "warnings", 0, NULL);
    ks_out_object(&out, "result");
    ks_out_bool(&out, "sound", !*health->says);
    ks_out_text(&out, "says", health->says);
    ks_out_whole(&out, "firings", health->firings);
    ks_out_whole(&out, "payments", health->payments);
    ks_out_whole(&out, "rows_lost", health->lost);
    ks_out_text(&out, "saved_to", health->saved_to);
    return ks_answer_close(&out);
}

const char *ks_answer_stock(const ks_kiln_stock *stock, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    open_answer(&out, 0, NULL);
    ks_out_text(&out, "kiln", stock->kiln->id);
    ks_out_text(&out, "since", *stock->since ? stock->since : NULL);
    ks_out_array(&out, "furniture");
    for (int i = 0; i < stock->n; i++) {
        const ks_stock_line *line = &stock->lines[i];
        ks_out_object_flat(&out, NULL);
        ks_out_text(&out, "id", line->item);
        ks_out_whole(&out, "listed", line->listed);
        ks_out_whole(&out, "broken", line->broken);
        ks_out_whole(&out, "bought", line->bought);
        ks_out_whole(&out, "left", line->left);
        ks_out_end(&out);
    }
    ks_out_end(&out);
    ks_out_array(&out, "parts");
    for (int p = 0; p < KS_PARTS; p++) {
        const ks_part_age *part = &stock->parts[p];
        ks_out_object_flat(&out, NULL);
        ks_out_text(&out, "part", part->part);
        ks_out_text(&out, "renewed", *part->since ? part->since : NULL);
        ks_out_whole(&out, "firings", part->firings);
        ks_out_end(&out);
    }
    ks_out_end(&out);
    return ks_answer_close(&out);
}

const char *ks_answer_pots(int n, const ks_pot_life *pots, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    open_answer(&out, 0, NULL);
    ks_out_array(&out, "pots");
    for (int i = 0; i < n; i++) {
        ks_out_object_flat(&out, NULL);
        ks_out_text(&out, "id", pots[i].piece);
        ks_out_text(&out, "owner", pots[i].owner);
        ks_out_whole(&out, "fired", pots[i].fired);
        ks_out_whole(&out, "lost", pots[i].lost);
        ks_out_whole(&out, "again", pots[i].again);
        ks_out_whole(&out, "sold", pots[i].sold);
        ks_out_whole(&out, "commission", pots[i].commission);
        ks_out_whole(&out, "seconds", pots[i].seconds);
        ks_out_end(&out);
    }
    ks_out_end(&out);
    return ks_answer_close(&out);
}

const char *ks_answer_written(const char *path, int added, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    open_answer(&out, 0, NULL);
    ks_out_text(&out, "file", path);
    if (added >= 0)
        ks_out_whole(&out, "added", added);
    return ks_answer_close(&out);
}
