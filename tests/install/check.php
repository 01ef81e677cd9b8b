<?php
// Asks the installed library from PHP, by the declarations that are installed beside it: check.php PREFIX
// The library itself is found as programs find it, by its name.

$passed = 0;
$failed = 0;

function check(bool $good, string $what): void
{
    global $passed, $failed;
    if ($good) {
        $passed++;
    } else {
        $failed++;
        echo "failed: $what\n";
    }
}

$floodbar = FFI::cdef(file_get_contents("$argv[1]/include/floodbar.ffi.h"), "libfloodbar.so.0");

// A status and what was written; the text goes back to the library.
function calculate(FFI $floodbar, string $id, string $request): array
{
    $text = $floodbar->new("char *");
    $status = $floodbar->floodbar_calculate($id, $request, FFI::addr($text));
    $answer = json_decode(FFI::string($text), true, 512, JSON_THROW_ON_ERROR);
    $floodbar->floodbar_free($text);
    return [$status, $answer];
}

check($floodbar->floodbar_abi() === $floodbar->FLOODBAR_ABI, "the declarations are those of the library");
check($floodbar->floodbar_version() === trim(file_get_contents("$argv[1]/share/doc/floodbar/VERSION")), "the version");

// 1/16 in is 1.5875 mm: the inch is 25.4 mm by definition.
[$status, $answer] = calculate($floodbar, "unit.convert", '{"quantity": "1/16 in", "to": "mm"}');
check($status === $floodbar->FLOODBAR_SUCCESS && $answer["quantity"] == ["value" => 1.5875, "unit" => "mm"], "a conversion");

[$status, $answer] = calculate($floodbar, "mesh.geometry", '{"mehs": "77-55"}');
check($status === $floodbar->FLOODBAR_UNKNOWN_FIELD, "the status of a slip");
check($answer["error"]["code"] === $floodbar->floodbar_status_text($status) && $answer["error"]["field"] === "/mehs", "its error");
check($floodbar->floodbar_calculate("mesh.geometry", "{}", null) === $floodbar->FLOODBAR_NULL_POINTER, "NULL for the answer");

// Rows of plain numbers. A step of the 21-step scale is a density of 0.15, so two steps too few want 10^0.3 of the time.
$prepared = $floodbar->new("floodbar_prepared *");
$error = $floodbar->new("char *");
$columns = '{"inputs": ["/solid_step"], "outputs": [{"at": "/time", "unit": "s"}]}';
$status = $floodbar->floodbar_prepare(null, "exposure.step", '{"time": "80 s"}', $columns, FFI::addr($prepared), FFI::addr($error));
check($status === $floodbar->FLOODBAR_SUCCESS && FFI::isNull($error), "a calculation is prepared");
$steps = $floodbar->new("double[3]");
[$steps[0], $steps[1], $steps[2]] = [7, 5, -1];
$times = $floodbar->new("double[3]");
$rows = $floodbar->new("floodbar_status[3]");
$inputs = $floodbar->new("double *[1]");
$outputs = $floodbar->new("double *[1]");
$inputs[0] = FFI::addr($steps[0]);
$outputs[0] = FFI::addr($times[0]);
$in = $floodbar->cast("double **", FFI::addr($inputs[0]));
$out = $floodbar->cast("double **", FFI::addr($outputs[0]));
$status = $floodbar->floodbar_run($prepared, 3, $in, 1, $out, 1, FFI::addr($rows[0]), null, null);
check($status === $floodbar->FLOODBAR_SUCCESS, "rows run");
check(abs($times[0] - 80) < 1e-9 && abs($times[1] - 80 * 10 ** 0.3) < 1e-9 && $rows[0] === 0 && $rows[1] === 0, "rows have their times");
check($rows[2] === $floodbar->FLOODBAR_OUT_OF_RANGE && is_nan($times[2]), "a bad row spoils no other");
$floodbar->floodbar_prepared_free($prepared);

echo "$passed passed, $failed failed\n";
exit($failed === 0 && $passed > 0 ? 0 : 1);
