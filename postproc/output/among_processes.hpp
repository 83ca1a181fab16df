#pragma once

#include <functional>
#include <vector>

namespace cw {

/// Calls every task once, in as many processes at the same time as there are processors, this one
/// among them. For what leaves files and nothing else: what a task changes in memory is lost. Not
/// in threads, because VTK keeps state that all threads would share. Once a task has failed no
/// further one begins; then throws WriteError with what the first said that failed, std::bad_alloc
/// where memory ran out. Where no process can be made, this one does it all.
void among_processes(const std::vector<std::function<void()>>& tasks);

}  // namespace cw
