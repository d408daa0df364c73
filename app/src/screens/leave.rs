//! Before you leave: what is still missing.

use crate::markup::{live, memo, rows, shown};
use crate::routes::{Route, Tab};
use crate::state::OpenSite;
use crate::words::{self, Names, Standing, Todo};
use leptos::prelude::*;

/// The list.
#[component]
pub fn LeaveScreen() -> impl IntoView {
    let site = OpenSite::here();
    let list = memo(move || {
        let fold = site.fold.get();
        let names = Names::new(&site.book.get(), &fold.record);
        words::todo(&fold.record, &site.adjustment.get(), &names)
    });
    let standing = move || Standing::of(&site.fold.get().record, &site.adjustment.get()).words();
    let of = move |must: bool| list.get().into_iter().filter(|todo| todo.must == must).collect::<Vec<_>>();
    let nothing = move || list.with(Vec::is_empty);
    markup! {
        <div class="page">
            <h1>{words::LEAVE}</h1>
            <p>{live(standing)}</p>
            {shown(nothing, || markup! { <p class="good">{words::LEAVE_DONE}</p> })}
            {part(words::LEAVE_MUST, move || of(true))}
            {part(words::LEAVE_BETTER, move || of(false))}
        </div>
    }
}

/// One half of the list; nothing when it is empty.
fn part(title: &'static str, list: impl Fn() -> Vec<Todo> + Copy + Send + Sync + 'static) -> AnyView {
    let id = OpenSite::here().id();
    let row = move |todo: Todo| {
        let href = Route::Site(id.clone(), todo.at).to_hash();
        let at = match todo.at {
            Tab::Book => words::BOOK,
            Tab::Details => words::DETAILS,
            Tab::Problems | Tab::AddProblem | Tab::AddMark => words::PROBLEMS,
            Tab::Plan | Tab::Sheet | Tab::Leave => words::PLAN,
        };
        let class = if todo.must { "todo todo-must" } else { "todo" };
        markup! {
            <li class=class>
                <span class="todo-what">{todo.what}</span>
                <span>{todo.how}</span>
                <a class="button" href=href>{words::go_to(at)}</a>
            </li>
        }
    };
    let part = move || markup! { <h2>{title}</h2> <ul class="todos">{rows(list, row.clone())}</ul> };
    shown(move || !list().is_empty(), part)
}
