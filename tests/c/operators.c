/* Prepared columns, sweeps, searches, many requests and the cache: pointers, ownership, bad input, threads.

   operators ROWS         everything, with so many rows
   operators ROWS races   only eight threads on one prepared calculation, for a tool that looks for races */

#include <cjson/cJSON.h>
#include <floodbar.h>
#include <math.h>
#include <pthread.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { INPUTS = 4, OUTPUTS = 2, THREADS = 8 };

static int passed, failed;

static void check(bool good, const char *what)
{
    if (good) {
        passed++;
    } else {
        failed++;
        printf("failed: %s\n", what);
    }
}

static void *room(size_t count, size_t size)
{
    void *got = calloc(count ? count : 1, size);
    if (!got)
        abort();
    return got;
}

/* Whether a text is the error of this status, names `part`, and points to `field`. Frees it. It is handed over by its place, since the
   call that writes it may be an argument too. */
static bool is_error(floodbar_status status, floodbar_status wanted, char **place, const char *part, const char *field)
{
    char *text = *place;
    cJSON *answer = cJSON_Parse(text);
    const cJSON *error = cJSON_GetObjectItemCaseSensitive(answer, "error");
    const char *code = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(error, "code"));
    const char *at = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(error, "field"));
    bool good = status == wanted && code && strcmp(code, floodbar_status_text(status)) == 0 && strstr(text, part) && at &&
                strcmp(at, field) == 0;
    if (!good)
        printf("status %d: %s\n", (int)status, text ? text : "(no text)");
    cJSON_Delete(answer);
    floodbar_free(text);
    return good;
}

static const char *const ID = "ink.usage";
static const char *const REQUEST = "{\"mesh\": \"77-55\", \"ink\": \"plastisol\"}";
static const char *const COLUMNS =
    "{\"inputs\": [{\"at\": \"/printed_area\", \"unit\": \"cm2\"}, {\"at\": \"/over_mesh\", \"unit\": \"um\"}, \"/prints\","
    " \"/waste_fraction\"], \"outputs\": [{\"at\": \"/mass_to_mix\", \"unit\": \"g\"}, {\"at\": \"/wet_film\", \"unit\": \"um\"}]}";

static floodbar_prepared *usage(void)
{
    floodbar_prepared *prepared = NULL;
    char *error = NULL;
    floodbar_status status = floodbar_prepare(NULL, ID, REQUEST, COLUMNS, &prepared, &error);
    check(status == FLOODBAR_SUCCESS && prepared && !error, "ink.usage can be prepared");
    return prepared;
}

/* Columns of rows, of which every 100th has a waste that cannot be. */
struct columns {
    size_t rows;
    double *inputs[INPUTS], *outputs[OUTPUTS];
    floodbar_status *status;
    uint32_t *cautions, *limits;
};

static bool is_bad(size_t row)
{
    return row % 100 == 99;
}

static struct columns columns_of(size_t rows)
{
    struct columns columns = {.rows = rows};
    for (size_t i = 0; i < INPUTS; i++)
        columns.inputs[i] = room(rows, sizeof(double));
    for (size_t i = 0; i < OUTPUTS; i++)
        columns.outputs[i] = room(rows, sizeof(double));
    columns.status = room(rows, sizeof *columns.status);
    columns.cautions = room(rows, sizeof *columns.cautions);
    columns.limits = room(rows, sizeof *columns.limits);
    for (size_t row = 0; row < rows; row++) {
        /* Small runs, so that masses are told in grams. */
        columns.inputs[0][row] = 1 + (double)(row * 7919 % 10007) / 31;
        columns.inputs[1][row] = (double)(row * 104729 % 4001) / 97;
        columns.inputs[2][row] = (double)(1 + row * 31 % 24);
        columns.inputs[3][row] = is_bad(row) ? -1 : (double)(row * 17 % 1009) / 3000;
    }
    return columns;
}

static void free_columns(struct columns *columns)
{
    for (size_t i = 0; i < INPUTS; i++)
        free(columns->inputs[i]);
    for (size_t i = 0; i < OUTPUTS; i++)
        free(columns->outputs[i]);
    free(columns->status);
    free(columns->cautions);
    free(columns->limits);
}

static floodbar_status run(const floodbar_prepared *prepared, struct columns *columns)
{
    return floodbar_run(prepared, columns->rows, (const double *const *)columns->inputs, INPUTS, columns->outputs, OUTPUTS,
                        columns->status, columns->cautions, columns->limits);
}

/* A quantity of an answer, in the unit that it must have. */
static double quantity(const cJSON *answer, const char *name, const char *unit)
{
    const cJSON *member = cJSON_GetObjectItemCaseSensitive(answer, name);
    const char *told = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(member, "unit"));
    return told && strcmp(told, unit) == 0 ? cJSON_GetNumberValue(cJSON_GetObjectItemCaseSensitive(member, "value")) : NAN;
}

static bool same_bits(double one, double other)
{
    return memcmp(&one, &other, sizeof one) == 0;
}

/* Whether a row is what floodbar_calculate() and floodbar_explain() say of it, to the last bit. */
static bool as_calculated(const floodbar_prepared *prepared, const struct columns *columns, size_t row)
{
    char request[400];
    double values[INPUTS];
    for (size_t i = 0; i < INPUTS; i++)
        values[i] = columns->inputs[i][row];
    snprintf(request, sizeof request,
             "{\"mesh\": \"77-55\", \"ink\": \"plastisol\", \"printed_area\": {\"value\": %.17g, \"unit\": \"cm2\"}, \"over_mesh\": "
             "{\"value\": %.17g, \"unit\": \"um\"}, \"prints\": %.17g, \"waste_fraction\": %.17g}",
             values[0], values[1], values[2], values[3]);
    char *text, *explained;
    floodbar_status status = floodbar_calculate(ID, request, &text);
    floodbar_status again = floodbar_explain(prepared, values, INPUTS, &explained);
    bool good = status == columns->status[row] && again == status;
    if (status == FLOODBAR_SUCCESS) {
        cJSON *answer = cJSON_Parse(text);
        good = good && strcmp(text, explained) == 0 && same_bits(quantity(answer, "mass_to_mix", "g"), columns->outputs[0][row]) &&
               same_bits(quantity(answer, "wet_film", "um"), columns->outputs[1][row]);
        cJSON_Delete(answer);
    } else {
        good = good && isnan(columns->outputs[0][row]) && isnan(columns->outputs[1][row]);
    }
    floodbar_free(text);
    floodbar_free(explained);
    return good;
}

static void rows(size_t count)
{
    floodbar_prepared *prepared = usage();
    struct columns columns = columns_of(count), before = columns_of(count);
    check(run(prepared, &columns) == FLOODBAR_SUCCESS, "the call is a success though rows fail");
    bool untouched = true, told = true;
    for (size_t i = 0; i < INPUTS; i++)
        untouched = untouched && memcmp(columns.inputs[i], before.inputs[i], count * sizeof(double)) == 0;
    check(untouched, "inputs are not written");
    for (size_t row = 0; row < count; row++) {
        bool bad = is_bad(row);
        told = told && columns.status[row] == (bad ? FLOODBAR_OUT_OF_RANGE : FLOODBAR_SUCCESS) &&
               !isnan(columns.outputs[0][row]) == !bad && columns.limits[row] == 0;
    }
    check(told, "a row that fails spoils no other");
    bool same = true;
    for (size_t row = 0; row < count && row < 200; row++)
        same = same && as_calculated(prepared, &columns, row);
    check(same, "rows are what floodbar_calculate() gives, bit for bit");
    free_columns(&before);
    free_columns(&columns);
    floodbar_prepared_free(prepared);
}

/* What a row cannot be, and what it need not have. */
static void odd_rows(void)
{
    floodbar_prepared *prepared = usage();
    struct columns columns = columns_of(5);
    columns.inputs[0][0] = NAN;
    columns.inputs[1][1] = INFINITY;
    columns.inputs[2][2] = 1.5;
    columns.inputs[2][3] = NAN;
    check(run(prepared, &columns) == FLOODBAR_SUCCESS, "numbers that are none fail their rows alone");
    for (size_t row = 0; row < 4; row++)
        check(columns.status[row] == FLOODBAR_OUT_OF_RANGE && isnan(columns.outputs[0][row]), "and are out of range");
    check(columns.status[4] == FLOODBAR_SUCCESS && columns.outputs[0][4] > 0, "the others have their answers");

    columns.outputs[0][4] = columns.outputs[1][4] = 0;
    const double *const *inputs = (const double *const *)columns.inputs;
    check(floodbar_run(prepared, 5, inputs, INPUTS, columns.outputs, OUTPUTS, NULL, NULL, NULL) == FLOODBAR_SUCCESS &&
              columns.outputs[0][4] > 0,
          "statuses and counts of rows may be left out");

    columns.inputs[3][4] = 5;
    check(run(prepared, &columns) == FLOODBAR_SUCCESS && columns.cautions[4] == 1 && columns.limits[4] == 0,
          "cautions of a row are counted");
    free_columns(&columns);
    floodbar_prepared_free(prepared);

    const char *columns_json = "{\"inputs\": [{\"at\": \"/solid_step\"}], \"outputs\": [\"/time\", \"/factor\"]}";
    char *error;
    check(floodbar_prepare(NULL, "exposure.step", "{\"time\": \"80 s\"}", columns_json, &prepared, &error) == FLOODBAR_SUCCESS,
          "what an input sets need not stand in the request");
    double steps[2] = {7, 1}, times[2], factors[2];
    const double *in[1] = {steps};
    double *out[2] = {times, factors};
    uint32_t cautions[2];
    check(floodbar_run(prepared, 2, in, 1, out, 2, NULL, cautions, NULL) == FLOODBAR_SUCCESS && times[0] == 80 &&
              factors[0] == 1 && cautions[0] == 0 && cautions[1] == 1,
          "a unit left out is the usual one");
    floodbar_prepared_free(prepared);
}

static void run_pointers(void)
{
    floodbar_prepared *prepared = usage();
    struct columns columns = columns_of(1);
    const double *in[INPUTS + 1] = {columns.inputs[0], columns.inputs[1], columns.inputs[2], columns.inputs[3], columns.inputs[3]};
    double *out[OUTPUTS + 1] = {columns.outputs[0], columns.outputs[1], columns.outputs[1]};
    const double *in_null[INPUTS] = {in[0], NULL, in[2], in[3]};
    double *out_null[OUTPUTS] = {out[0], NULL};
    const struct {
        floodbar_status wanted;
        const floodbar_prepared *prepared;
        size_t rows;
        const double *const *inputs;
        size_t inputs_count;
        double *const *outputs;
        size_t outputs_count;
        const char *what;
    } calls[] = {
        {FLOODBAR_SUCCESS, prepared, 1, in, INPUTS, out, OUTPUTS, "columns as they were prepared"},
        {FLOODBAR_NULL_POINTER, NULL, 1, in, INPUTS, out, OUTPUTS, "nothing prepared"},
        {FLOODBAR_NULL_POINTER, prepared, 1, NULL, INPUTS, out, OUTPUTS, "no inputs"},
        {FLOODBAR_NULL_POINTER, prepared, 1, in, INPUTS, NULL, OUTPUTS, "no outputs"},
        {FLOODBAR_NULL_POINTER, prepared, 1, in_null, INPUTS, out, OUTPUTS, "a NULL input column"},
        {FLOODBAR_NULL_POINTER, prepared, 1, in, INPUTS, out_null, OUTPUTS, "a NULL output column"},
        {FLOODBAR_IMPOSSIBLE, prepared, 1, in, INPUTS - 1, out, OUTPUTS, "an input too few"},
        {FLOODBAR_IMPOSSIBLE, prepared, 1, in, INPUTS + 1, out, OUTPUTS, "an input too many"},
        {FLOODBAR_IMPOSSIBLE, prepared, 1, in, INPUTS, out, OUTPUTS - 1, "an output too few"},
        {FLOODBAR_IMPOSSIBLE, prepared, 1, in, INPUTS, out, OUTPUTS + 1, "an output too many"},
        {FLOODBAR_IMPOSSIBLE, prepared, 1, NULL, SIZE_MAX, out, OUTPUTS, "inputs beyond all counting"},
        {FLOODBAR_TOO_LONG, prepared, SIZE_MAX, in, INPUTS, out, OUTPUTS, "more rows than memory holds"},
        {FLOODBAR_SUCCESS, prepared, 0, in_null, INPUTS, out_null, OUTPUTS, "no rows, NULL columns"},
        {FLOODBAR_SUCCESS, prepared, 0, NULL, INPUTS, NULL, OUTPUTS, "no rows and no columns"},
        {FLOODBAR_IMPOSSIBLE, prepared, 0, NULL, 0, NULL, 0, "no rows and another number of columns"},
    };
    for (size_t i = 0; i < sizeof calls / sizeof *calls; i++) {
        columns.status[0] = -7;
        floodbar_status status = floodbar_run(calls[i].prepared, calls[i].rows, calls[i].inputs, calls[i].inputs_count,
                                              calls[i].outputs, calls[i].outputs_count, columns.status, NULL, NULL);
        bool written = columns.status[0] != -7;
        check(status == calls[i].wanted, calls[i].what);
        check(written == (status == FLOODBAR_SUCCESS && calls[i].rows > 0), "nothing is written for a call that fails");
    }

    char *text;
    double row[INPUTS] = {100, 0, 10, 0.1};
    check(is_error(floodbar_explain(NULL, row, INPUTS, &text), FLOODBAR_NULL_POINTER, &text, "`prepared`", ""), "explain: NULL");
    check(is_error(floodbar_explain(prepared, NULL, INPUTS, &text), FLOODBAR_NULL_POINTER, &text, "`input_row`", ""),
          "explain: a NULL row");
    check(is_error(floodbar_explain(prepared, row, 1, &text), FLOODBAR_IMPOSSIBLE, &text, "columns", "/inputs"),
          "explain: a row too short");
    check(is_error(floodbar_explain(prepared, row, SIZE_MAX, &text), FLOODBAR_TOO_LONG, &text, "`input_row`", ""),
          "explain: a row beyond memory");
    row[3] = -1;
    check(is_error(floodbar_explain(prepared, row, INPUTS, &text), FLOODBAR_OUT_OF_RANGE, &text, "0 to 10", "/waste_fraction"),
          "explain: what is wrong with a row");
    check(floodbar_explain(prepared, row, INPUTS, NULL) == FLOODBAR_NULL_POINTER, "explain: a NULL answer is a status");
    free_columns(&columns);
    floodbar_prepared_free(prepared);
    floodbar_prepared_free(NULL);
    check(true, "NULL can be freed");
}

static void preparing(void)
{
    const struct {
        floodbar_status wanted;
        const char *id, *request, *columns, *part, *field;
    } calls[] = {
        {FLOODBAR_NULL_POINTER, NULL, REQUEST, COLUMNS, "`id`", ""},
        {FLOODBAR_NULL_POINTER, ID, NULL, COLUMNS, "`request_json`", ""},
        {FLOODBAR_NULL_POINTER, ID, REQUEST, NULL, "`columns_json`", ""},
        {FLOODBAR_UNKNOWN_CALCULATION, "ink.usaeg", REQUEST, COLUMNS, "ink.usage", ""},
        {FLOODBAR_BAD_JSON, ID, "{", COLUMNS, "`request_json`", ""},
        {FLOODBAR_BAD_JSON, ID, REQUEST, "\xff", "`columns_json`", ""},
        {FLOODBAR_BAD_QUANTITY, ID, "{\"mesh\": \"77\"}", COLUMNS, "mesh", "/mesh"},
        {FLOODBAR_MISSING_FIELD, ID, "{\"mesh\": \"77-55\"}", COLUMNS, "ink", "/ink"},
        {FLOODBAR_IMPOSSIBLE, ID, "{\"mesh\": \"77-55\", \"ink\": \"plastisol\", \"left_in_screen\": \"50 +/- 9 g\"}", COLUMNS, "doubt",
         "/left_in_screen"},
        {FLOODBAR_WRONG_TYPE, ID, REQUEST, "[]", "inputs", ""},
        {FLOODBAR_MISSING_FIELD, ID, REQUEST, "{\"inputs\": []}", "outputs", "/outputs"},
        {FLOODBAR_UNKNOWN_FIELD, ID, REQUEST, "{\"inputs\": [\"/nowhere\"], \"outputs\": []}", "nowhere", "/inputs/0"},
        {FLOODBAR_WRONG_TYPE, ID, REQUEST, "{\"inputs\": [\"/mesh\"], \"outputs\": []}", "number", "/inputs/0"},
        {FLOODBAR_BAD_QUANTITY, ID, REQUEST, "{\"inputs\": [{\"at\": \"/over_mesh\", \"unit\": \"cm2\"}], \"outputs\": []}", "unit",
         "/inputs/0/unit"},
        {FLOODBAR_IMPOSSIBLE, ID, REQUEST, "{\"inputs\": [\"/prints\", \"/prints\"], \"outputs\": []}", "another", "/inputs/1"},
        {FLOODBAR_UNKNOWN_FIELD, ID, REQUEST, "{\"inputs\": [], \"outputs\": [\"/mass\"]}", "member", "/outputs/0"},
    };
    for (size_t i = 0; i < sizeof calls / sizeof *calls; i++) {
        char mine = 0, *text = &mine;
        floodbar_prepared *prepared = (floodbar_prepared *)&mine;
        floodbar_status status = floodbar_prepare(NULL, calls[i].id, calls[i].request, calls[i].columns, &prepared, &text);
        check(is_error(status, calls[i].wanted, &text, calls[i].part, calls[i].field) && !prepared, "prepare: what is wrong is named");
    }
    char *text;
    check(is_error(floodbar_prepare(NULL, ID, REQUEST, COLUMNS, NULL, &text), FLOODBAR_NULL_POINTER, &text, "`prepared`", ""),
          "prepare: nowhere to put it");
    char mine = 0;
    floodbar_prepared *prepared = (floodbar_prepared *)&mine;
    check(floodbar_prepare(NULL, ID, REQUEST, COLUMNS, &prepared, NULL) == FLOODBAR_NULL_POINTER && !prepared,
          "prepare: nowhere to put an error");
    check(floodbar_prepare(NULL, ID, REQUEST, COLUMNS, NULL, NULL) == FLOODBAR_NULL_POINTER, "prepare: nowhere at all");
}

typedef floodbar_status operator(floodbar_cache *, const char *, const char *, const char *, char **);

static void sweep_and_solve(void)
{
    const char *request = "{\"mesh\": \"77-55\", \"ink\": \"plastisol\", \"printed_area\": \"300 cm2\", \"prints\": 50}";
    const char *over = "{\"vary\": \"/over_mesh\", \"from\": \"0 um\", \"to\": \"40 um\", \"points\": 3, \"want\": [\"/wet_film\"]}";
    const char *kilogram =
        "{\"vary\": \"/prints\", \"from\": 1, \"to\": 10000, \"want\": \"/mass_to_mix\", \"equals\": \"1 kg\"}";
    const struct {
        operator *call;
        const char *good;
    } operators[] = {{floodbar_sweep, over}, {floodbar_solve, kilogram}};
    char *text;
    for (size_t i = 0; i < 2; i++) {
        operator *call = operators[i].call;
        const char *good = operators[i].good;
        check(is_error(call(NULL, NULL, request, good, &text), FLOODBAR_NULL_POINTER, &text, "`id`", ""), "a NULL id");
        check(is_error(call(NULL, ID, NULL, good, &text), FLOODBAR_NULL_POINTER, &text, "`request_json`", ""), "a NULL request");
        check(is_error(call(NULL, ID, request, NULL, &text), FLOODBAR_NULL_POINTER, &text, "`spec_json`", ""), "a NULL specification");
        check(call(NULL, ID, request, good, NULL) == FLOODBAR_NULL_POINTER, "a NULL answer is a status");
        check(is_error(call(NULL, "ink", request, good, &text), FLOODBAR_UNKNOWN_CALCULATION, &text, "ink", ""), "a slip in the id");
        check(is_error(call(NULL, ID, "{", good, &text), FLOODBAR_BAD_JSON, &text, "`request_json`", ""), "a request that is no JSON");
        check(is_error(call(NULL, ID, request, "{", &text), FLOODBAR_BAD_JSON, &text, "`spec_json`", ""),
              "a specification that is no JSON");
        check(is_error(call(NULL, ID, request, "{}", &text), FLOODBAR_MISSING_FIELD, &text, "vary", "/vary"), "nothing varied");
        check(is_error(call(NULL, ID, request, "{\"vary\": \"/thread\"}", &text), FLOODBAR_UNKNOWN_FIELD, &text, "field", "/vary"),
              "a pointer to nowhere");
    }
    check(floodbar_sweep(NULL, ID, request, over, &text) == FLOODBAR_SUCCESS && strstr(text, "\"columns\""), "a sweep");
    floodbar_free(text);
    check(floodbar_solve(NULL, ID, request, kilogram, &text) == FLOODBAR_SUCCESS && strstr(text, "\"reached\""), "a search");
    floodbar_free(text);
    const char *ton = "{\"vary\": \"/prints\", \"from\": 1, \"to\": 2, \"want\": \"/mass_to_mix\", \"equals\": \"1000 kg\"}";
    check(is_error(floodbar_solve(NULL, ID, request, ton, &text), FLOODBAR_NO_SOLUTION, &text, "never", "/equals"),
          "a search that finds nothing");
    const char *backwards = "{\"vary\": \"/over_mesh\", \"from\": \"40 um\", \"to\": \"0 um\", \"points\": 3}";
    check(is_error(floodbar_sweep(NULL, ID, request, backwards, &text), FLOODBAR_IMPOSSIBLE, &text, "above", "/from"),
          "a sweep backwards");
    const char *many = "{\"vary\": \"/over_mesh\", \"from\": \"0 um\", \"to\": \"40 um\", \"points\": 10001}";
    check(is_error(floodbar_sweep(NULL, ID, request, many, &text), FLOODBAR_TOO_LONG, &text, "10000", "/points"), "10,001 points");
}

static void many(void)
{
    char *text, *alone;
    check(is_error(floodbar_calculate_many(NULL, NULL, "[]", &text), FLOODBAR_NULL_POINTER, &text, "`id`", ""), "many: a NULL id");
    check(is_error(floodbar_calculate_many(NULL, ID, NULL, &text), FLOODBAR_NULL_POINTER, &text, "`requests_json`", ""), "many: NULL");
    check(floodbar_calculate_many(NULL, ID, "[]", NULL) == FLOODBAR_NULL_POINTER, "many: a NULL answer is a status");
    check(is_error(floodbar_calculate_many(NULL, ID, "[", &text), FLOODBAR_BAD_JSON, &text, "JSON", ""), "many: no JSON");
    check(is_error(floodbar_calculate_many(NULL, ID, "{}", &text), FLOODBAR_WRONG_TYPE, &text, "list", ""), "many: no list");
    check(floodbar_calculate_many(NULL, ID, "[]", &text) == FLOODBAR_SUCCESS && strcmp(text, "[]") == 0, "many: none");
    floodbar_free(text);

    check(floodbar_calculate_many(NULL, "mesh.geometry", "[{\"mesh\": \"77-55\"}, 1, {\"mesh\": \"55-64\"}]", &text) == FLOODBAR_SUCCESS,
          "many: a bad one spoils no other");
    cJSON *answers = cJSON_Parse(text);
    floodbar_free(text);
    check(cJSON_GetArraySize(answers) == 3, "many: an entry for each");
    check(cJSON_GetObjectItemCaseSensitive(cJSON_GetArrayItem(answers, 1), "error"), "many: its error in its place");
    floodbar_calculate("mesh.geometry", "{\"mesh\": \"55-64\"}", &alone);
    cJSON *answer = cJSON_Parse(alone);
    floodbar_free(alone);
    check(cJSON_Compare(answer, cJSON_GetArrayItem(answers, 2), true), "many: the answers are those of floodbar_calculate()");
    cJSON_Delete(answer);
    cJSON_Delete(answers);

    /* More text than one request may have, and two million blanks in it. */
    const size_t long_one = 5000000;
    char *requests = room(long_one + 1, 1);
    memset(requests, ' ', long_one);
    requests[0] = '[';
    requests[long_one - 1] = ']';
    check(floodbar_calculate_many(NULL, ID, requests, &text) == FLOODBAR_SUCCESS && strcmp(text, "[]") == 0, "many: 5 MB");
    floodbar_free(text);
    free(requests);
}

static const char *const WINDOW = "[{\"dryer\": \"air-dryer-2m\", \"ink\": \"plastisol\", \"cloth\": \"cotton-jersey-180\"}]";

/* What a thread works on, what it compares with, and whether all was as it should be. */
struct work {
    const floodbar_prepared *prepared;
    struct columns columns;
    const struct columns *expected;
    floodbar_cache *cache;
    const char *expected_text;
    const double *expected_speeds;
    bool good;
};

static void *run_often(void *argument)
{
    struct work *work = argument;
    for (int i = 0; i < 3; i++) {
        work->good = work->good && run(work->prepared, &work->columns) == FLOODBAR_SUCCESS;
        for (size_t column = 0; column < OUTPUTS; column++)
            work->good = work->good && memcmp(work->columns.outputs[column], work->expected->outputs[column],
                                              work->columns.rows * sizeof(double)) == 0;
        work->good = work->good && memcmp(work->columns.status, work->expected->status,
                                          work->columns.rows * sizeof *work->columns.status) == 0;
    }
    return NULL;
}

static void *ask_often(void *argument)
{
    struct work *work = argument;
    for (int i = 0; i < 4; i++) {
        char *text = NULL;
        work->good = work->good && floodbar_calculate_many(work->cache, "dryer.window", WINDOW, &text) == FLOODBAR_SUCCESS &&
                     strcmp(text, work->expected_text) == 0;
        floodbar_free(text);
    }
    return NULL;
}

static void in_threads(struct work work[THREADS], void *(*call)(void *), const char *what)
{
    pthread_t thread[THREADS];
    for (int i = 0; i < THREADS; i++) {
        work[i].good = true;
        if (pthread_create(&thread[i], NULL, call, &work[i]) != 0)
            abort();
    }
    for (int i = 0; i < THREADS; i++) {
        pthread_join(thread[i], NULL);
        check(work[i].good, what);
    }
}

/* Eight threads on one prepared calculation, each into its own columns. */
static void threads_on_rows(size_t count)
{
    floodbar_prepared *prepared = usage();
    struct columns expected = columns_of(count);
    check(run(prepared, &expected) == FLOODBAR_SUCCESS, "rows to compare with");
    struct work work[THREADS] = {0};
    for (int i = 0; i < THREADS; i++) {
        work[i].prepared = prepared;
        work[i].columns = columns_of(count);
        work[i].expected = &expected;
    }
    in_threads(work, run_often, "a thread gets the rows that the others get");
    for (int i = 0; i < THREADS; i++)
        free_columns(&work[i].columns);
    free_columns(&expected);
    floodbar_prepared_free(prepared);
}

/* Rows of dryer.window, each a run through heat. */
enum { STARTS = 3 };

static floodbar_prepared *windows(floodbar_cache *cache)
{
    const char *request = "{\"dryer\": \"air-dryer-2m\", \"ink\": \"plastisol\", \"cloth\": \"cotton-jersey-180\"}";
    const char *columns =
        "{\"inputs\": [{\"at\": \"/start\", \"unit\": \"degC\"}], \"outputs\": [{\"at\": \"/fastest\", \"unit\": \"m/min\"}]}";
    floodbar_prepared *prepared = NULL;
    char *error = NULL;
    floodbar_status status = floodbar_prepare(cache, "dryer.window", request, columns, &prepared, &error);
    check(status == FLOODBAR_SUCCESS && prepared && !error, "dryer.window can be prepared");
    return prepared;
}

static bool speeds_of(const floodbar_prepared *prepared, double speeds[STARTS])
{
    const double starts[STARTS] = {15, 25, 35};
    const double *in[1] = {starts};
    double *out[1] = {speeds};
    return floodbar_run(prepared, STARTS, in, 1, out, 1, NULL, NULL, NULL) == FLOODBAR_SUCCESS;
}

static void *run_and_ask(void *argument)
{
    struct work *work = argument;
    for (int i = 0; i < 2; i++) {
        double speeds[STARTS];
        uint64_t hits, misses;
        work->good = work->good && speeds_of(work->prepared, speeds) && memcmp(speeds, work->expected_speeds, sizeof speeds) == 0 &&
                     floodbar_cache_counts(work->cache, &hits, &misses) == FLOODBAR_SUCCESS && hits + misses >= STARTS;
        ask_often(work);
    }
    return NULL;
}

/* Eight threads on one calculation through heat, and on the cache that it was prepared with, which has not room for all their runs. */
static void threads_on_both(void)
{
    floodbar_cache *cache = floodbar_cache_new(STARTS - 1);
    floodbar_prepared *alone = windows(NULL), *prepared = windows(cache);
    double speeds[STARTS];
    char *expected;
    check(speeds_of(alone, speeds) && speeds[0] > 0 && speeds[0] < speeds[1] && speeds[1] < speeds[2], "a warmer shirt goes faster");
    check(floodbar_calculate_many(NULL, "dryer.window", WINDOW, &expected) == FLOODBAR_SUCCESS, "an answer to compare with");
    struct work work[THREADS] = {0};
    for (int i = 0; i < THREADS; i++) {
        work[i].prepared = prepared;
        work[i].cache = cache;
        work[i].expected_text = expected;
        work[i].expected_speeds = speeds;
    }
    in_threads(work, run_and_ask, "a thread gets rows and answers as they are worked out alone");
    floodbar_free(expected);
    floodbar_prepared_free(alone);
    floodbar_prepared_free(prepared);
    floodbar_cache_free(cache);
}

static void caches(void)
{
    uint64_t hits = 9, misses = 9;
    floodbar_cache *cache = floodbar_cache_new(10);
    check(floodbar_cache_counts(NULL, &hits, &misses) == FLOODBAR_NULL_POINTER && hits == 9, "counts of no cache");
    check(floodbar_cache_counts(cache, NULL, &misses) == FLOODBAR_NULL_POINTER && misses == 9, "counts to nowhere");
    check(floodbar_cache_counts(cache, &hits, NULL) == FLOODBAR_NULL_POINTER && hits == 9, "counts to nowhere");
    check(floodbar_cache_counts(cache, &hits, &misses) == FLOODBAR_SUCCESS && hits == 0 && misses == 0, "a new cache");

    char *expected;
    check(floodbar_calculate_many(NULL, "dryer.window", WINDOW, &expected) == FLOODBAR_SUCCESS, "an answer to compare with");
    struct work work[THREADS] = {0};
    for (int i = 0; i < THREADS; i++) {
        work[i].cache = cache;
        work[i].expected_text = expected;
    }
    in_threads(work, ask_often, "a thread gets from the cache what is worked out without");
    floodbar_cache_counts(cache, &hits, &misses);
    check(hits + misses == THREADS * 4 && misses >= 1 && misses <= THREADS, "runs are found from the second time on");

    /* What was prepared with a cache goes on without its handle. */
    floodbar_prepared *prepared = windows(cache);
    double starts[2] = {25, 25}, speeds[2];
    const double *in[1] = {starts};
    double *out[1] = {speeds};
    check(floodbar_run(prepared, 2, in, 1, out, 1, NULL, NULL, NULL) == FLOODBAR_SUCCESS, "rows through heat");
    uint64_t before = hits;
    floodbar_cache_counts(cache, &hits, &misses);
    check(hits > before, "rows find what is kept");
    floodbar_cache_free(cache);
    check(floodbar_run(prepared, 2, in, 1, out, 1, NULL, NULL, NULL) == FLOODBAR_SUCCESS && speeds[0] > 0 &&
              same_bits(speeds[0], speeds[1]),
          "what is prepared outlives its cache");
    floodbar_prepared_free(prepared);
    floodbar_free(expected);
    floodbar_cache_free(NULL);
    floodbar_cache_free(floodbar_cache_new(0));
    floodbar_cache_free(floodbar_cache_new(SIZE_MAX));
    check(true, "a cache of any size, and NULL, can be freed");
}

int main(int count, char **arguments)
{
    long given = count > 1 ? strtol(arguments[1], NULL, 10) : 0;
    if (given < 1) {
        fprintf(stderr, "usage: operators ROWS [races]\n");
        return 2;
    }
    if (count == 2) {
        rows((size_t)given);
        odd_rows();
        run_pointers();
        preparing();
        sweep_and_solve();
        many();
        caches();
        threads_on_both();
    }
    threads_on_rows((size_t)given / THREADS + 1);
    printf("%d passed, %d failed\n", passed, failed);
    return failed == 0 && passed > 0 ? 0 : 1;
}
