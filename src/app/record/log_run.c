#include "app/record/log_run.h"

#include "app/machine/now.h"
#include "app/machine/target.h"
#include "app/record/put_right.h"
#include "app/record/take_out.h"
#include "base/days/civil.h"
#include "base/days/date.h"
#include "base/file.h"
#include "base/money_text.h"
#include "base/text.h"

#include <math.h>
#include <string.h>

const char *ks_book_path(const char *told)
{
    return told ? told : "kilnstow.book";
}

const char *ks_log_now(ks_arena *arena)
{
    int64_t now = ks_now();
    const char *minute = ks_civil_print(now, arena);
    char *text = ks_arena_print(arena, "%.10sT%s:%02dZ", minute, minute + 11, (int)(now % 60));
    return text;
}

static ks_status choose_load(const ks_log_job *job, const ks_plan *plan, int *load, ks_error *err)
{
    *load = job->load < 0 ? 0 : job->load;
    if (job->load < 0 && plan->n_loads != 1)
        return ks_fail(err, KS_BAD_USAGE,
                       "log add: the plan has %d loads; choose one with --load N", plan->n_loads);
    if (*load >= plan->n_loads)
        return ks_fail(err, KS_BAD_USAGE, "--load: found %d; the plan has %d", *load + 1,
                       plan->n_loads);
    if (plan->loads[*load].kiln < 0)
        return ks_fail(err, KS_BAD_INPUT, "%s: load %d is in kiln \"%s\", which its order has not",
                       job->plan_path, *load + 1, plan->loads[*load].kiln_id);
    return KS_OK;
}

/* A load is fired once, unless told. */
static ks_status refuse_twice(const ks_log_job *job, ks_book *book, const ks_book_firing *entry,
                              ks_arena *arena, ks_error *err)
{
    int n;
    ks_book_firing *before;
    ks_book_asked asked = {.plan = entry->plan, .load = entry->load};
    ks_status status = ks_book_firings(book, &asked, arena, &n, &before, err);
    if (status || n == 0 || job->again)
        return status;
    return ks_fail(err, KS_BAD_USAGE,
                   "log add: load %d of this plan stands in the record as entry %d; mend it "
                   "(kilnstow log mend %d ...), or give --again if it was fired twice",
                   entry->load, before[0].mark.n, before[0].mark.n);
}

/* Looked at before the entry is written, so that nothing is written where it can't be done. */
static ks_status prepare_taking(const ks_log_job *job, const ks_plan *plan, ks_arena *arena,
                                ks_log_outcome *out, ks_error *err)
{
    const ks_plan *fired;
    const ks_book_firing *entry = &out->entry;
    if (!job->take_out)
        return KS_OK;
    ks_status status = ks_load_put_right(plan, entry->load - 1, entry->n_corrections,
                                         entry->corrections, arena, &fired, err);
    return status ? status
                  : ks_take_out_prepare(job->take_out, fired, entry, arena, &out->lowered, err);
}

static ks_status write_taking(const ks_log_job *job, ks_arena *arena, ks_log_outcome *out,
                              ks_error *err)
{
    if (!ks_take_out_write(&out->lowered, arena, err))
        return KS_OK;
    return ks_fail(err, KS_SYSTEM,
                   "entry %d is written, but not all tables of ware of %s could be lowered; lower "
                   "them by hand",
                   out->entry.mark.n, job->take_out);
}

static ks_status add(const ks_log_job *job, ks_arena *arena, ks_log_outcome *out, ks_error *err)
{
    ks_plan *plan;
    ks_book *book = NULL;
    int load = 0;
    ks_status status = ks_plan_read(job->plan_path, arena, &plan, err);
    if (!status)
        status = choose_load(job, plan, &load, err);
    if (!status)
        status = ks_log_entry_make(plan, load, &job->told, arena, &out->entry, &out->notes, err);
    if (!status)
        status = prepare_taking(job, plan, arena, out, err);
    if (!status)
        status = ks_book_open(out->book_path, KS_BOOK_MAKE, &book, err);
    if (!status)
        status = refuse_twice(job, book, &out->entry, arena, err);
    out->entry.mark.written = ks_log_now(arena);
    if (!status)
        status = ks_book_write_firing(book, &out->entry, ks_plan_json(plan, arena), err);
    ks_book_close(book);
    return status ? status : write_taking(job, arena, out, err);
}

static ks_status mend(const ks_log_job *job, ks_arena *arena, ks_log_outcome *out, ks_error *err)
{
    ks_plan *plan;
    ks_book *book = NULL;
    ks_book_firing *found = NULL;
    int n = 0;
    ks_status status = ks_book_open(out->book_path, KS_BOOK_EDIT, &book, err);
    if (!status)
        status = ks_book_firings(
            book, &(ks_book_asked){.n = job->n, .struck = true, .lists = KS_LISTS_ALL}, arena, &n,
            &found, err);
    if (!status && n == 0)
        status = ks_fail(err, KS_BAD_USAGE, "log mend: found %d; %s has no entry of that number",
                         job->n, out->book_path);
    if (!status)
        status = ks_book_plan_read(book, found->plan, arena, &plan, err);
    if (!status) {
        out->entry = *found;
        status = ks_log_entry_mend(plan, &job->told, arena, &out->entry, &out->notes, err);
    }
    out->entry.mark.written = ks_log_now(arena);
    if (!status)
        status = ks_book_write_firing(book, &out->entry, NULL, err);
    ks_book_close(book);
    return status;
}

/* "Ruth 4.20, Mo 2.10": who pays what. */
static const char *shares_of(const ks_book_firing *entry, ks_arena *arena)
{
    ks_text text = {.arena = arena};
    for (int i = 0; i < entry->n_charges; i++) {
        const ks_charge *charge = &entry->charges[i];
        const char *name = *charge->name ? charge->name : *charge->member ? charge->member : NULL;
        ks_text_add(&text, i > 0 ? ", " : "");
        ks_text_print(&text, "%s %s", name ? name : "the studio",
                      ks_money_print(charge->minor, entry->digits, arena));
    }
    return ks_text_end(&text);
}

ks_status ks_log_write(const ks_log_job *job, ks_arena *arena, ks_log_outcome *out, ks_error *err)
{
    *out = (ks_log_outcome){.book_path = ks_book_path(job->book_path)};
    ks_status status = job->n > 0 ? mend(job, arena, out, err) : add(job, arena, out, err);
    out->statement = status ? "" : shares_of(&out->entry, arena);
    return status;
}

ks_status ks_log_list(const char *book_path, const ks_book_asked *asked, ks_arena *arena,
                      ks_log_listed *out, ks_error *err)
{
    ks_book *book = NULL;
    *out = (ks_log_listed){.book_path = ks_book_path(book_path)};
    ks_status status = ks_book_open(out->book_path, KS_BOOK_LOOK, &book, err);
    if (!status)
        status = ks_book_firings(book, asked, arena, &out->n, &out->firings, err);
    ks_book_close(book);
    return status;
}

ks_status ks_log_currency(ks_book *book, ks_arena *arena, const char **currency, int *digits,
                          ks_error *err)
{
    ks_status status = ks_book_currency(book, arena, currency, digits, err);
    if (!status && !**currency)
        return ks_fail(err, KS_BAD_USAGE,
                       "nothing was charged yet, so that the currency is not known; log a firing "
                       "with its meter first");
    return status;
}

static ks_status make_payment(const char *member, const char *amount, const char *day,
                              ks_book_payment *out, ks_error *err)
{
    int number;
    const char *wrong = ks_money_parse(amount, out->digits, &out->minor);
    if (wrong)
        return ks_fail(err, KS_BAD_USAGE, "log paid: found \"%s\": %s", amount, wrong);
    if (out->minor == 0)
        return ks_fail(err, KS_BAD_USAGE, "log paid: found nothing paid");
    if (day && ks_date_parse(day, &number))
        return ks_fail(err, KS_BAD_USAGE, "--day: found \"%s\"; it takes a day like 2026-11-28",
                       day);
    out->member = member;
    return KS_OK;
}

static ks_status refuse_unknown(ks_book *book, const char *member, ks_error *err)
{
    bool known;
    ks_status status = ks_book_knows(book, member, &known, err);
    if (!status && !known)
        return ks_fail(err, KS_BAD_USAGE,
                       "found \"%s\"; the record has charged and been paid by no such member",
                       member);
    return status;
}

ks_status ks_log_pay(const char *book_path, const char *member, const char *amount, const char *day,
                     const char *note, ks_arena *arena, ks_book_payment *out, ks_error *err)
{
    ks_book *book = NULL;
    const char *now = ks_log_now(arena);
    *out = (ks_book_payment){.mark = {.written = now},
                             .day = day ? day : ks_arena_text_n(arena, now, 10),
                             .note = note ? note : "",
                             .struck = ""};
    ks_status status = ks_book_open(ks_book_path(book_path), KS_BOOK_EDIT, &book, err);
    if (!status)
        status = ks_log_currency(book, arena, &out->currency, &out->digits, err);
    if (!status)
        status = refuse_unknown(book, member, err);
    if (!status)
        status = make_payment(member, amount, day, out, err);
    if (!status)
        status = ks_book_write_payment(book, out, err);
    ks_book_close(book);
    return status;
}

ks_status ks_log_export(const char *book_path, const char *path, bool force, ks_arena *arena,
                        ks_error *err)
{
    ks_book *book = NULL;
    const char *text = "";
    bool table = ks_path_ends(path, ".csv");
    if (!table && !ks_path_ends(path, ".json") && !ks_path_is_standard(path))
        return ks_fail(err, KS_BAD_USAGE,
                       "log export: found \"%s\"; it takes a file that ends in .json (all of the "
                       "record) or .csv (one row for each firing)",
                       path);
    ks_inputs inputs = {.arena = arena};
    ks_inputs_add(&inputs, ks_book_path(book_path));
    ks_status status =
        ks_target_try(path, table ? KS_TARGET_LOG_TABLE : KS_TARGET_LOG, &inputs, force, err);
    if (!status)
        status = ks_book_open(ks_book_path(book_path), KS_BOOK_LOOK, &book, err);
    if (!status && table) {
        int n;
        ks_book_firing *firings;
        status = ks_book_firings(book, &(ks_book_asked){.lists = KS_LISTS_SHORT}, arena, &n,
                                 &firings, err);
        text = status ? "" : ks_log_csv(n, firings, arena);
    } else if (!status) {
        status = ks_book_export(book, arena, &text, err);
    }
    ks_book_close(book);
    return status ? status : ks_file_write(path, text, strlen(text), err);
}
