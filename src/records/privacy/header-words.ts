/** What a column or a value may give away. */
export type Identifying =
  | 'name'
  | 'phone number'
  | 'address'
  | 'health-service number'
  | 'e-mail address'
  | 'birth date'
  | 'free text';

/** Words parted by commas. */
const words = (text: string): readonly string[] => text.split(', ');

/**
 * Words in the header of a column that holds what identifies a person: English, German, French, Spanish, Italian,
 * Portuguese, Dutch, Swedish, Danish, Norwegian, Finnish and Polish, in lower case without accents. A word stands by
 * itself or, where it is long enough to mean nothing else, within a longer one.
 */
export const HEADER_WORDS: readonly (readonly [Identifying, readonly string[]])[] = [
  [
    'e-mail address',
    words('email, mail, correo, courriel, epost, sahkoposti, posta elettronica, emailadres'),
  ],
  [
    'phone number',
    words(
      'phone, telephone, tel, mobile, cellphone, fax, whatsapp, telefon, ' +
        'telefonnummer, handy, mobil, rufnummer, telefono, movil, celular, cellulare, telefone, ' +
        'telemovel, telefoon, gsm, portable, puhelin, komorka',
    ),
  ],
  [
    'address',
    words(
      'address, street, postcode, zip, zipcode, postal, town, city, village, adresse, anschrift, ' +
        'strasse, plz, postleitzahl, wohnort, ort, rue, ville, code postal, direccion, domicilio, ' +
        'calle, codigo postal, ciudad, indirizzo, citta, morada, endereco, cidade, adres, ' +
        'straat, woonplaats, adress, gata, postnummer, osoite, ulica, kod pocztowy',
    ),
  ],
  [
    'health-service number',
    words(
      'nhs, nhsno, nhs number, mrn, hospital number, hospital no, chi, medicare, ssn, social ' +
        'security, insurance, insurance number, medical record, passport, national id, ' +
        'versichertennummer, versicherungsnummer, krankenkasse, kvnr, svnr, ahv, nir, insee, securite ' +
        'sociale, ipp, dni, nie, nuhsa, cip, historia clinica, codice fiscale, tessera sanitaria, ' +
        'cpf, sns, utente, bsn, personnummer, cpr, fodselsnummer, hetu, henkilotunnus, pesel, patient ' +
        'number, patientennummer',
    ),
  ],
  [
    'birth date',
    words(
      'dob, birth date, birthdate, date of birth, birthday, born, geburtsdatum, geboren, date de ' +
        'naissance, naissance, fecha de nacimiento, nacimiento, data di nascita, nascita, data de ' +
        'nascimento, nascimento, geboortedatum, fodelsedatum, fodselsdato, syntymaaika, data ' +
        'urodzenia',
    ),
  ],
  [
    'name',
    words(
      'name, surname, forename, firstname, lastname, fullname, initials, first name, last name, given name, family name, ' +
        'mother, father, parent, parents, guardian, carer, gp, vorname, nachname, familienname, ' +
        'mutter, vater, eltern, nom, prenom, mere, pere, nombre, apellido, apellidos, madre, padre, ' +
        'nome, cognome, sobrenome, apelido, naam, voornaam, achternaam, moeder, vader, namn, fornamn, ' +
        'efternamn, navn, fornavn, etternavn, efternavn, nimi, etunimi, sukunimi, imie, nazwisko',
    ),
  ],
  [
    'free text',
    words(
      'note, notes, comment, comments, remark, remarks, freetext, narrative, letter, ' +
        'description, bemerkung, bemerkungen, kommentar, notiz, notizen, anmerkung, freitext, ' +
        'commentaire, commentaires, remarque, remarques, notas, observaciones, comentario, ' +
        'comentarios, commenti, osservazioni, observacoes, opmerking, opmerkingen, notitie, ' +
        'anteckning, bemaerkning, merknad, huomautus, uwagi, komentarz',
    ),
  ],
];
