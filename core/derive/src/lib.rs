//! `say!`, and `#[derive(Told)]`: serde's `Deserialize` for the record's types, through one JSON value.
//!
//! serde's own derive writes a reader for each type that works on any format and in any order, straight
//! off the text. Together they were a sixth of what a phone downloads. Here a type only names its
//! fields; finding and converting them is done by one piece of code (`told` in the record).
//!
//! Understood of serde's attributes: `rename`, `default` and with it `deserialize_with` (a function of a JSON value)
//! on fields, `default` on a struct, `rename_all = "snake_case"` on an enum. Enums are tagged from outside, as serde's are. What only
//! concerns writing is left to serde's `Serialize`.

use proc_macro2::TokenStream;
use quote::quote;
use syn::{Attribute, Data, DeriveInput, Field, Fields, LitStr, Variant, parse_macro_input};

mod say;

/// As `format!`, in the reader's language: `say!("{label} is loose")`. What stands in a gap is the program's own
/// word, told in that language, or somebody's own, or a number. See `language` in core.
#[proc_macro]
pub fn say(input: proc_macro::TokenStream) -> proc_macro::TokenStream {
    say::say(input.into()).unwrap_or_else(|error| error.to_compile_error()).into()
}

/// See the crate's documentation.
#[proc_macro_derive(Told, attributes(serde))]
pub fn told(input: proc_macro::TokenStream) -> proc_macro::TokenStream {
    let input = parse_macro_input!(input as DeriveInput);
    implementation(&input).unwrap_or_else(|error| error.to_compile_error()).into()
}

fn implementation(input: &DeriveInput) -> syn::Result<TokenStream> {
    let name = &input.ident;
    let said = Said::of(&input.attrs)?;
    let read = match &input.data {
        Data::Struct(data) => {
            let (before, fields) = named(&data.fields, said.default)?;
            quote!(crate::record::told::fields(from, |told| { #before Ok(Self { #fields }) }))
        }
        Data::Enum(data) => {
            let arms =
                data.variants.iter().map(|v| variant(v, said.snake)).collect::<syn::Result<Vec<_>>>()?;
            quote!(crate::record::told::choice(from, |name, with| Ok(Some(match name {
                #(#arms,)*
                _ => return Ok(None),
            }))))
        }
        Data::Union(_) => return Err(syn::Error::new_spanned(name, "a union cannot be told")),
    };
    Ok(quote! {
        impl<'de> ::serde::Deserialize<'de> for #name {
            fn deserialize<D: ::serde::Deserializer<'de>>(from: D) -> ::core::result::Result<Self, D::Error> {
                #read
            }
        }
    })
}

/// A match arm that makes the variant.
fn variant(variant: &Variant, snake: bool) -> syn::Result<TokenStream> {
    let name = &variant.ident;
    let key = if snake { snake_case(&name.to_string()) } else { name.to_string() };
    Ok(match &variant.fields {
        Fields::Unit => quote!(#key => Self::#name),
        Fields::Unnamed(_) => quote!(#key => Self::#name(with.whole()?)),
        Fields::Named(_) => {
            let (_, fields) = named(&variant.fields, false)?;
            quote!(#key => {
                let mut told = with.fields()?;
                let told = &mut told;
                Self::#name { #fields }
            })
        }
    })
}

/// What to do first, and the fields of a struct or variant, each taken from `told`.
fn named(fields: &Fields, defaults: bool) -> syn::Result<(TokenStream, TokenStream)> {
    let Fields::Named(fields) = fields else {
        return Err(syn::Error::new_spanned(fields, "fields need names"));
    };
    let taken = fields.named.iter().map(|f| field(f, defaults)).collect::<syn::Result<Vec<_>>>()?;
    let before = if defaults { quote!(let otherwise = Self::default();) } else { TokenStream::new() };
    Ok((before, quote!(#(#taken),*)))
}

fn field(field: &Field, defaults: bool) -> syn::Result<TokenStream> {
    let name = &field.ident;
    let said = Said::of(&field.attrs)?;
    let key = said.rename.unwrap_or_else(|| name.as_ref().map(ToString::to_string).unwrap_or_default());
    Ok(if defaults {
        quote!(#name: told.maybe(#key)?.unwrap_or(otherwise.#name))
    } else if let (true, Some(by)) = (said.default, said.by) {
        quote!(#name: told.maybe_by(#key, #by)?.unwrap_or_default())
    } else if said.default {
        quote!(#name: told.maybe(#key)?.unwrap_or_default())
    } else {
        quote!(#name: told.take(#key)?)
    })
}

/// What serde's attributes say of reading.
#[derive(Default)]
struct Said {
    default: bool,
    snake: bool,
    rename: Option<String>,
    by: Option<syn::Path>,
}

impl Said {
    fn of(attributes: &[Attribute]) -> syn::Result<Self> {
        let mut said = Self::default();
        for attribute in attributes.iter().filter(|a| a.path().is_ident("serde")) {
            attribute.parse_nested_meta(|meta| {
                if meta.path.is_ident("default") {
                    said.default = true;
                } else if meta.path.is_ident("rename") {
                    said.rename = Some(meta.value()?.parse::<LitStr>()?.value());
                } else if meta.path.is_ident("deserialize_with") {
                    said.by = Some(meta.value()?.parse::<LitStr>()?.parse()?);
                } else if meta.path.is_ident("rename_all") {
                    let case: LitStr = meta.value()?.parse()?;
                    if case.value() != "snake_case" {
                        return Err(meta.error("only snake_case is understood"));
                    }
                    said.snake = true;
                } else if meta.path.is_ident("skip_serializing_if") {
                    meta.value()?.parse::<LitStr>()?;
                } else {
                    return Err(meta.error("not understood when reading"));
                }
                Ok(())
            })?;
        }
        Ok(said)
    }
}

/// As serde does it: a capital letter begins a word.
fn snake_case(name: &str) -> String {
    let mut out = String::new();
    for (place, letter) in name.char_indices() {
        if letter.is_ascii_uppercase() && place > 0 {
            out.push('_');
        }
        out.push(letter.to_ascii_lowercase());
    }
    out
}
