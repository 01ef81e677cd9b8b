/* How long to flash a white underbase on a dark shirt before the next colour: dwell [PLATEN_IN_DEGC]

   The request is read once; then the temperature goes in and the dwell comes out as plain numbers, without any JSON here. */

#include <floodbar.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const char *const REQUEST =
    "{\"flash\": \"panel-flash\", \"ink\": \"plastisol-white\", \"cloth\": \"cotton-jersey-180-dark\", \"platen\": \"rubber-topped\"}";
static const char *const COLUMNS =
    "{\"inputs\": [{\"at\": \"/platen_start\", \"unit\": \"degC\"}], \"outputs\": [{\"at\": \"/recommended\", \"unit\": \"s\"}]}";

/* Says why there is no answer; the text is the library's and goes back to it. */
static int refused(floodbar_status status, char *text)
{
    fprintf(stderr, "dwell: %s: %s\n", floodbar_status_text(status), text ? text : "");
    floodbar_free(text);
    return 1;
}

int main(int count, char **arguments)
{
    char *end = NULL;
    double platen = count == 2 ? strtod(arguments[1], &end) : 25;
    if (count > 2 || (count == 2 && (end == arguments[1] || *end))) {
        fprintf(stderr, "usage: dwell [PLATEN_IN_DEGC]\n");
        return 2;
    }
    if (floodbar_abi() != FLOODBAR_ABI) {
        fprintf(stderr, "dwell: compiled for interface %u, but floodbar %s has %u\n", (unsigned)FLOODBAR_ABI, floodbar_version(),
                (unsigned)floodbar_abi());
        return 1;
    }

    floodbar_prepared *prepared = NULL;
    char *text = NULL;
    floodbar_status status = floodbar_prepare(NULL, "flash.dwell", REQUEST, COLUMNS, &prepared, &text);
    if (status != FLOODBAR_SUCCESS)
        return refused(status, text);

    double dwell = NAN;
    floodbar_status row = FLOODBAR_SUCCESS;
    const double *const inputs[1] = {&platen};
    double *const outputs[1] = {&dwell};
    status = floodbar_run(prepared, 1, inputs, 1, outputs, 1, &row, NULL, NULL);
    int failed = 0;
    if (status != FLOODBAR_SUCCESS) {
        failed = refused(status, NULL);
    } else if (row != FLOODBAR_SUCCESS) {
        /* The same row once more, for its error in words. */
        status = floodbar_explain(prepared, &platen, 1, &text);
        failed = refused(status, text);
    } else if (isnan(dwell)) {
        fprintf(stderr, "dwell: no dwell works on a platen of %g degC\n", platen);
        failed = 1;
    } else {
        printf("flash for %.1f s on a platen of %g degC\n", dwell, platen);
    }
    floodbar_prepared_free(prepared);
    return failed;
}
