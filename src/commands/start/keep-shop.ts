// The settings of the shop in a form: the head of its reports, and how it writes numbers.
import { dirname } from 'node:path'
import { shopFileSchema, shopOf } from '../../core/model/shop.ts'
import { Problem } from '../../errors.ts'
import { createForm, formState } from '../../terminal/screens/form.ts'
import type { FormAsk, FormSpec, FormState, Values } from '../../terminal/screens/form-spec.ts'
import { shopJson, shopRows, shopValues } from '../../terminal/screens/shop-form.ts'
import { userFolders } from '../../user-folders.ts'
import { schemaMistakes } from '../check-setup.ts'
import { readLogo } from '../read-shop.ts'
import { saveSetup, shopFile } from '../save-setup.ts'
import { showPage } from '../show-page.ts'
import type { Desk } from './desk.ts'
import { openSetup } from './open-setup.ts'

/** The form of the settings, until they are saved or left. */
export async function keepShop(desk: Desk): Promise<void> {
  const { shop } = userFolders()
  const folder = dirname(shop)
  const { base, before } = await openSetup('settings', folder, shopFile)
  const spec: FormSpec = {
    title: 'Settings of the shop',
    intro: ['Each test report begins with them; what is left empty is printed as "not recorded".'],
    rows: () => shopRows,
    check: (values) => schemaMistakes(shopJson(base, values), shopFileSchema),
    done: { short: 'save', does: 'Save the settings.', enter: false },
    back: { short: 'back', does: 'Go back without saving.' },
  }
  const save = async (values: Values) => {
    const json = shopJson(base, values)
    // The whole file is looked at: a logo that cannot be printed is found here and not by a customer.
    await readLogo(shopOf(shopFileSchema.parse(json)), shop)
    return saveSetup(folder, shopFile, json, before)
  }
  const saved = await desk.host.show<FormState, FormAsk, string | null>(
    createForm(spec),
    formState(spec, shopValues(base)),
    (ask, hands) => {
      if (ask.by === 'back') return hands.leave(null)
      save(ask.values).then(
        (path) => hands.leave(path),
        (error) => hands.say(error instanceof Problem ? error.message : String(error)),
      )
    },
  )
  if (saved !== null) await showPage(desk.host, 'Settings of the shop', [`Saved: ${saved}`])
}
